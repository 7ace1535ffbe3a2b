package care

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sheaf/generator/entries"
	"sheaf/generator/garden"
	"sheaf/generator/names"
	"sheaf/generator/site"
	"sheaf/generator/source"
)

// A Holding is a regulation that holds for a planting at the garden.
type Holding struct {
	*entries.Regulation
	// Kind is the regulation's own, or limited: before a ban begins, and for a
	// cultivar that may be left out of it.
	Kind  entries.Kind
	Place string // where it holds: the country's name or a part's
	Asks  bool   // whether the cultivar is left out must be asked
}

// Regulated gives what regulations hold for a planting at the garden's place, the
// strictest first. Of a guide's country, when it names no part of it, all parts.
func (in *Input) Regulated(p *garden.Planting) []Holding {
	part := in.part()
	return in.holdings(p, func(where string) bool {
		return in.Region != nil && (where == in.Region.Code || where == in.Region.Union ||
			part != nil && where == in.Region.Code+"-"+part.Code ||
			part == nil && in.Garden.Kind == garden.Guide && strings.HasPrefix(where, in.Region.Code+"-"))
	})
}

// RegulatedInParts gives what would hold for a planting in parts of the country,
// for a garden that does not say in which it lies.
func (in *Input) RegulatedInParts(p *garden.Planting) []Holding {
	if in.Region == nil || in.part() != nil {
		return nil
	}
	return in.holdings(p, func(where string) bool { return strings.HasPrefix(where, in.Region.Code+"-") })
}

func (in *Input) holdings(p *garden.Planting, here func(where string) bool) []Holding {
	var out []Holding
	called := botanicals(p)
	for _, r := range in.Library.Naming(called) {
		if !here(r.Where) {
			continue
		}
		// An exception is made for what is planted, whatever its entry is called.
		if !p.Name.IsZero() && slices.ContainsFunc(r.Except, func(c string) bool {
			return strings.EqualFold(c, p.Name.Cultivar) || strings.EqualFold(c, p.Name.Trade)
		}) {
			continue
		}
		if !slices.ContainsFunc(called, r.Names) {
			continue
		}
		h := Holding{Regulation: r, Kind: r.Kind, Place: in.placeOf(r.Where)}
		if r.Kind == entries.Banned {
			h.Asks = r.SomeCultivars && slices.ContainsFunc(called[:1], func(n names.Name) bool { return n.Cultivar+n.Trade != "" })
			if h.Asks || r.From > in.issued() {
				h.Kind = entries.Limited
			}
		}
		out = append(out, h)
	}
	slices.SortStableFunc(out, func(a, b Holding) int { return cmp.Compare(rank(a.Kind), rank(b.Kind)) })
	return out
}

func rank(k entries.Kind) int {
	return slices.Index([]entries.Kind{entries.Banned, entries.Limited, entries.Advised, entries.Unchecked}, k)
}

// issued is the day for which bans are reckoned: of the handover, else the first
// of the booklet.
func (in *Input) issued() site.Day { return cmp.Or(in.Garden.Date, in.First) }

// botanicals are the names a planting may be known by: that of the list, then
// those of its entry. An entry that is only borrowed for its care names another.
func botanicals(p *garden.Planting) []names.Name {
	if p.Entry == nil || p.How == garden.Group {
		return []names.Name{p.Name}
	}
	out := []names.Name{p.Called()}
	if !p.Name.IsZero() {
		out = append(out, p.Name)
	}
	out = append(out, p.Entry.Name.Value)
	for _, s := range p.Entry.Synonyms {
		out = append(out, s.Value)
	}
	return out
}

func (in *Input) placeOf(where string) string {
	if code, ok := strings.CutPrefix(where, in.Region.Code+"-"); ok {
		if part := in.Region.Part(code); part != nil {
			return part.Name
		}
	}
	return in.Region.Name
}

// Forbidden tells whether a planting may not be planted or kept at the garden's
// place, now or on a day that is set: then nothing is dated that makes more of it.
func (in *Input) Forbidden(p *garden.Planting) bool {
	return slices.ContainsFunc(in.Regulated(p), func(h Holding) bool { return h.Regulation.Kind == entries.Banned && !h.Asks })
}

// Acknowledged tells whether the garden says that it knows of a regulated plant.
func (in *Input) Acknowledged(p *garden.Planting) bool {
	return slices.ContainsFunc(in.Garden.Acknowledged, func(t source.At[string]) bool { return Means(t.Value, p) })
}

// Means tells whether a name is one that a planting may be known by, or that of
// its species.
func Means(name string, p *garden.Planting) bool {
	n, _, err := names.Parse(name)
	if err != nil {
		return false
	}
	return slices.ContainsFunc(botanicals(p), func(b names.Name) bool {
		return b.Key() == n.Key() || n.Cultivar+n.Trade+n.Infra == "" && n.BinomialKey() != "" && n.BinomialKey() == b.BinomialKey()
	})
}

// Line says a holding to the designer.
func (h Holding) Line() string {
	line := fmt.Sprintf("%s: %s, %d: %s (%s)", h.Where, h.Law, h.Year, h.Status, h.Seen)
	if h.From != 0 {
		line += ", from " + h.From.String()
	}
	if h.Asks {
		line += "; ask whether this cultivar is left out"
	}
	return line
}

// Unsure tells that no page of whoever makes or keeps the list was seen to name it.
func (h Holding) Unsure() bool {
	return h.Seen != "seen" || h.Kind == entries.Unchecked
}

// Remembered tells that nobody read anything of it.
func (h Holding) Remembered() bool { return strings.HasPrefix(h.Seen, "memory") }

// Barred tells whether a job keeps a plant that is forbidden here, or makes more of
// it: all but cuts that take its flowers and seed, and looking it over.
func (in *Input) Barred(p *garden.Planting, j *entries.Job) bool {
	switch j.Name.Value {
	case "deadhead", "remove stems", "check":
		return false
	}
	return in.Forbidden(p)
}
