package booklet

import (
	"sheaf/generator/prose"
)

// quote sets the double quotation marks of all that entries and pages say in the
// way of the book's language. Files are read before their language is known, and
// marks typed straight become English ones there.
func (b *Book) quote() {
	said := b.Words.Quoted
	if said("“”") == "“”" {
		return
	}
	runs := func(rs []prose.Run) []prose.Run {
		out := make([]prose.Run, len(rs)) // the library's own stay as they are
		for i, r := range rs {
			r.Text = said(r.Text)
			out[i] = r
		}
		return out
	}
	facts := func(rows []Fact) []Fact {
		out := make([]Fact, len(rows))
		for i, r := range rows {
			out[i] = Fact{said(r.Label), runs(r.Text)}
		}
		return out
	}
	texts := func(ss []string) []string { return each(ss, said) }
	for i := range b.Sections {
		s := &b.Sections[i]
		s.Title, s.Aside = runs(s.Title), said(s.Aside)
		for j, block := range s.Blocks {
			switch v := block.(type) {
			case Text:
				v.Runs = runs(v.Runs)
				s.Blocks[j] = v
			case Heading:
				v.Runs = runs(v.Runs)
				s.Blocks[j] = v
			case List:
				items := make([][]prose.Run, len(v.Items))
				for k, item := range v.Items {
					items[k] = runs(item)
				}
				v.Items = items
				s.Blocks[j] = v
			case Facts:
				s.Blocks[j] = Facts{facts(v.Rows)}
			case Terms:
				s.Blocks[j] = Terms{facts(v.Rows)}
			case Figure:
				v.Caption = said(v.Caption)
				s.Blocks[j] = v
			case Portrait:
				v.Look, v.Names = runs(v.Look), texts(v.Names)
				if v.Photo != nil {
					photo := *v.Photo
					photo.Alt, photo.Caption = said(photo.Alt), said(photo.Caption)
					v.Photo = &photo
				}
				s.Blocks[j] = v
			case Work:
				rows := make([]Detail, len(v.Rows))
				for k, r := range v.Rows {
					rows[k] = Detail{Fact{said(r.Label), runs(r.Text)}, r.Rank, r.Caution}
				}
				v.Rows, v.Notes, v.Amount, v.Terms, v.Never = rows, facts(v.Notes), said(v.Amount), said(v.Terms), said(v.Never)
				s.Blocks[j] = v
			case Harm:
				v.Full = texts(v.Full)
				s.Blocks[j] = v
			case IndexList:
				rows := make([]IndexRow, len(v.Rows))
				for k, r := range v.Rows {
					r.Runs = runs(r.Runs)
					rows[k] = r
				}
				v.Rows = rows
				s.Blocks[j] = v
			case Chores:
				lines := make([]Chore, len(v.Lines))
				for k, l := range v.Lines {
					l.Where, l.Amount, l.Look, l.Warn = said(l.Where), said(l.Amount), said(l.Look), said(l.Warn)
					lines[k] = l
				}
				v.Lines = lines
				s.Blocks[j] = v
			case Tasks:
				lines := make([]TaskLine, len(v.Lines))
				for k, l := range v.Lines {
					l.Rest, l.Leave, l.Look, l.Warn = said(l.Rest), said(l.Leave), said(l.Look), said(l.Warn)
					lines[k] = l
				}
				v.Lines = lines
				s.Blocks[j] = v
			}
		}
	}
}

// quoted does the same to events.
func (b *Book) quoted(events []Event) []Event {
	for i := range events {
		e := &events[i]
		e.Summary, e.Lines = b.Words.Quoted(e.Summary), each(e.Lines, b.Words.Quoted)
	}
	return events
}

// each gives texts as by makes them.
func each(ss []string, by func(string) string) []string {
	var out []string
	for _, s := range ss {
		out = append(out, by(s))
	}
	return out
}
