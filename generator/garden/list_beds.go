package garden

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"sheaf/generator/source"
)

var (
	// bedLabel drops the word before a bed's name, bedNamed keeps it as part of
	// the name: "Bed: Courtyard", "BED A", "Long border".
	bedLabel  = regexp.MustCompile(`(?i)^(?:bed|border|area|zone|location|planting area|beet|bereich|pflanzfläche|vak|plantvak|massif)(?: name| no\.?| ref\.?| nr\.?)?\s*(?::|\s[–—-]\s)\s*(\S.*)$`)
	bedNamed  = regexp.MustCompile(`(?i)^(?:bed|border|zone|area|planter|beet|vak|plantvak|massif)(?:\s+\S+){1,4}$`)
	bedEnding = regexp.MustCompile(`(?i)^\S+(?:\s\S+){0,2}\s(?:beds?|borders?|planters?|beete?|vakken)$`)
	continued = regexp.MustCompile(`(?i)[\s,]*[(\[]?\b(?:continued|cont'?d|cont|forts\.?|fortsetzung|vervolg|suite)\b\.?[)\]]?$`)
	square    = regexp.MustCompile(`(?i)\d\s*(?:m2|m²|sq\.? ?(?:m|ft)|sqm|qm)`)
	// squareAtEnd is the area that stands behind a bed's name.
	squareAtEnd = regexp.MustCompile(`(?i)[\s,;:–—(-]+(?:(?:area|fläche|opp\.?|surface)[\s:]*)?(?:c\.?|ca\.?|approx\.?)?\s*(\d+(?:[.,]\d+)?\s*(?:m2|m²|sq\.? ?(?:m|ft)|sqm|qm))\b?\)?$`)
)

// bedTitle gives the bed that a row announces. One with a word for bed before
// the name may have other cells (its area, a sum) but no plant; else the name
// stands alone in its row, in whatever column, or in the list's column of beds.
func (l *list) bedTitle(row []cell) (cell, bool) {
	i := slices.IndexFunc(row, func(c cell) bool { return c.text != "" })
	if i < 0 {
		return cell{}, false
	}
	title, single := row[i], alone(row).text != ""
	title.text = continued.ReplaceAllString(title.text, "")
	inPlants := i == l.head.cols[plantColumn]
	switch plant, quantity := l.plantCell(row), l.cell(row, quantityColumn); {
	case isTotal(title.text), plant.text != "" && !inPlants, plant.hollow, quantity.text != "" && (inPlants || i == l.head.cols[bedColumn]):
		return cell{}, false
	}
	if m := bedLabel.FindStringSubmatchIndex(title.text); m != nil && !square.MatchString(title.text[m[2]:m[3]]) {
		title.span, title.text = title.span.Within(m[2], m[3]), title.text[m[2]:m[3]]
		return title, true
	}
	if isRemark(title.text) {
		return cell{}, false
	}
	named := bedNamed.MatchString(title.text) || single && bedEnding.MatchString(title.text)
	return title, named || single && i == l.head.cols[bedColumn]
}

// address is what a title may say of the garden and not of a bed.
var address = regexp.MustCompile(`(?i)^(?:location|area)\b`)

// bedAbove gives the bed named right above the headings, of a list that has
// headings above each bed.
func (l *list) bedAbove() cell {
	for i := l.head.line - 1; i >= 0 && l.head.cols[bedColumn] < 0; i-- {
		if title := alone(l.lines[i]); title.text != "" {
			if bed, ok := l.bedTitle(l.lines[i]); ok && !address.MatchString(title.text) {
				return bed
			}
			break
		}
	}
	return cell{}
}

// kindWords make up headings by kind of plant: "Trees and shrubs".
const kindWords = " trees shrubs perennials herbaceous grasses sedges ferns bulbs climbers hedge hedges hedging groundcover herbs annuals biennials bamboos roses palms succulents subshrubs " +
	"conifers aquatics marginals wildflowers alpines topiary corms tubers underplanting " +
	"bäume baeume sträucher straeucher stauden gräser graeser farne zwiebeln blumenzwiebeln knollen geophyten kletterpflanzen hecke hecken heckenpflanzen bodendecker kräuter einjährige zweijährige rosen gehölze laubgehölze nadelgehölze koniferen solitärs solitäre großsträucher halbsträucher wasserpflanzen sumpfpflanzen " +
	"bomen heesters planten vasteplanten grassen siergrassen varens bollen bloembollen knollen klimplanten haag hagen haagplanten bodembedekkers kruiden eenjarigen tweejarigen rozen coniferen struiken waterplanten oeverplanten " +
	"arbres arbustes vivaces graminées fougères bulbes grimpantes haie haies couvre-sol aromatiques annuelles bisannuelles rosiers conifères arbrisseaux "

// kindMore may stand beside them.
const kindMore = " and & / + ornamental evergreen deciduous specimen wall multi-stem multi-stemmed semi-mature feature flowering spring summer autumn winter herbaceous ground cover plants planting native mixed small large tall low other list schedule mix " +
	"und immergrüne sommergrüne laubabwerfende heimische blühende mehrjährige winterharte pflanzen frühlingsblüher frühjahrs herbst sonstige hochstamm hochstämme solitär " +
	"en vaste planten groenblijvende bladverliezende inheemse overige solitaire sier meerstammige " +
	"et plantes persistants caducs d'ornement tapissantes "

// isKinds tells a heading by kind of plant from a plant.
func isKinds(text string) bool {
	named := false
	for w := range strings.FieldsSeq(strings.ToLower(text)) {
		w = strings.Trim(w, ",:()")
		kind := strings.Contains(kindWords, " "+w+" ")
		if !kind && !strings.Contains(kindMore, " "+w+" ") {
			return false
		}
		named = named || kind
	}
	low := strings.ToLower(strings.Trim(text, " :"))
	return named || low == "ground cover" || low == "vaste planten" || low == "plantes couvre-sol"
}

var (
	total  = regexp.MustCompile(`(?i)^(?:grand |overall |bed |sub-?\s?|sous-?\s?|zwischen)?(?:totals?|totaux|totaal|summe|gesamt(?:summe|zahl)?)\b|\b(?:sub-?|sous-?)?(?:totals?|totaal):?$|^(?:somme|übertrag|carried forward|c/f|b/f|subtotaal)\b`)
	remark = regexp.MustCompile(`(?i)^(?:\*|area:|(?:notes?|general notes?|planting notes?|n\.?b|p\.s|key|legend|remarks?|comments?|prepared|drawn|checked|revision|rev|source|please|all (?:plants|quantities|sizes|trees|shrubs)|plants? to be|` +
		`hinweise?|anmerkung(?:en)?|bemerkung(?:en)?|legende|stand|alle (?:pflanzen|planten|mengen)|opmerking(?:en)?|toelichting|let op|remarques?|légende|nota)(?:[\s:.,]|$))`)
	// remarksBelow are the words above a block of remarks.
	remarksBelow = regexp.MustCompile(`(?i)^(?:(?:general |planting )?notes?|remarks?|comments?|n\.?b\.?|key|legend|specification notes?|hinweise?|anmerkung(?:en)?|bemerkung(?:en)?|legende|opmerking(?:en)?|toelichting|remarques?|légende|nota)\s*:?$`)
)

func isTotal(text string) bool { return total.MatchString(text) }

// longestName is in how many words a plant is named at most: a row of one cell
// with more is a sentence.
const longestName = 8

// isRemark tells a line of words from a plant.
func isRemark(text string) bool {
	return remark.MatchString(text) || len(strings.Fields(text)) > longestName
}

// isSentence tells words that end with a full stop from a plant and from a bed.
func (l *list) isSentence(text string) bool {
	const fewest = 4 // words
	return l.plant != nil && strings.HasSuffix(text, ".") && len(strings.Fields(text)) >= fewest && !l.knows(text)
}

// plantCell gives what names a row's plant: its botanical name, or for want of that
// what people call it.
func (l *list) plantCell(row []cell) cell {
	if c := l.cell(row, plantColumn); c.text != "" || c.hollow {
		return c
	}
	return l.cell(row, commonColumn)
}

// knows tells whether a text is that of a plant, a quantity beside its name or not.
func (l *list) knows(text string) bool {
	if l.plant == nil || text == "" {
		return false
	}
	name, _ := counted(cell{text: text})
	return l.plant(name.text)
}

// mostlyFilled tells a list whose plants have something said of them in another column
// that is read, or a quantity with their name: there a name alone in its row is more
// likely a bed's.
func (l *list) mostlyFilled() bool {
	plants, more := 0, 0
	for _, row := range l.body() {
		plant := l.plantCell(row)
		if !l.knows(plant.text) {
			continue
		}
		plants++
		if _, n := counted(plant); n.text != "" || l.saysMore(row) {
			more++
		}
	}
	return 2*more > plants
}

// saysMore tells a row that says more of its plant than what it is called.
func (l *list) saysMore(row []cell) bool {
	for c := range columns {
		switch c {
		case plantColumn, cultivarColumn, genusColumn, commonColumn:
		default:
			if l.cell(row, c).text != "" {
				return true
			}
		}
	}
	return false
}

var (
	// numbered is what beds are counted with: "1.", "2)".
	numbered = regexp.MustCompile(`^\(?(?:\d{1,3}|[A-Za-z])[.):]\s+`)
	// placeEnding and placeBeginning tell the name of a place in a garden in the four
	// languages: "Front garden", "Pond edge", "Zone A - Entrance", "Beet 2".
	placeEnding = regexp.MustCompile(`(?i)(?:^|[\s-])(?:beds?|borders?|planters?|gardens?|courtyard|yard|terrace|patio|deck|edge|entrance|entry|driveway|drive|path|pathway|walk|lawn|meadow|pond|pool|orchard|woodland|copse|bank|slope|corner|steps|gate|roof|verge|boundary|parterre|atrium|loggia|arboretum|pergola|veranda|gazebo|pavilion|campus|sanctuary|rill|swale|raingarden|car park|forecourt|` +
		`beet|beete|garten|vorgarten|innenhof|hof|terrasse|eingang|einfahrt|teich|teichrand|rabatte|wiese|böschung|hang|weg|dach|dachgarten|rand|` +
		`vak|vakken|tuin|voortuin|achtertuin|zijtuin|terras|vijver|vijverrand|oever|entree|oprit|pad|binnenplaats|dakterras|talud|` +
		`massif|massifs|jardin|cour|entrée|allée|bassin|étang|talus|prairie|verger|bordure|toiture)$`)
	placeBeginning = regexp.MustCompile(`(?i)^(?:beds?|border|planter|zone|area|beet|bereich|vak|plantvak|massif|secteur|jardin|garten|tuin|garden|courtyard|terrace|terrasse|plot|phase|level|roof)\s+(?:[A-Z0-9]{1,3}\b|[–—-]|no\b|nr\b|n°)`)
)

// isPlace tells the name of a place in a garden by its words.
func isPlace(text string) bool {
	text = strings.Trim(aside.ReplaceAllString(numbered.ReplaceAllString(text, ""), ""), " :")
	return len(strings.Fields(text)) <= longestName && !strings.ContainsAny(text, "'‘’\"“”„") && (placeEnding.MatchString(text) || placeBeginning.MatchString(text))
}

// subheading tells a row that names the bed of the rows below by a name of its own, or
// a kind of plant: what stands in it, alone or beside an area or a sum, is no plant.
func (r *rowReader) subheading(body [][]cell, i int) (title cell, kinds, ok bool) {
	row := body[i]
	j := slices.IndexFunc(row, func(c cell) bool { return c.text != "" })
	if r.plant == nil || j < 0 || j > max(r.head.cols[plantColumn], r.head.cols[bedColumn], r.head.cols[commonColumn]) {
		return cell{}, false, false
	}
	title = row[j]
	others, squares := 0, 0
	for _, c := range row[j+1:] {
		switch {
		case c.text == "":
		case square.MatchString(c.text):
			squares++
		case figureForm.MatchString(c.text) || quantityForm.MatchString(c.text):
			others++
		default:
			return cell{}, false, false
		}
	}
	if _, n := counted(title); n.text != "" || !strings.ContainsFunc(title.text, unicode.IsLetter) || strings.HasSuffix(title.text, ".") || r.knows(squareAtEnd.ReplaceAllString(title.text, "")) || len(strings.Fields(title.text)) > longestName {
		return cell{}, false, false
	}
	switch {
	case isPlace(title.text):
		ok = true
	case others > 0:
		ok = r.sumsUp(body, i)
	case squares > 0:
		ok = r.cell(row, quantityColumn).text == ""
	default:
		ok = r.filled
	}
	title.text = strings.TrimRight(continued.ReplaceAllString(title.text, ""), " :")
	return title, ok && isKinds(title.text), ok
}

// sumsUp tells a row whose quantity is the sum of those below it, up to the next that
// is no plant.
func (r *rowReader) sumsUp(body [][]cell, i int) bool {
	want, ok := r.count(body[i])
	if !ok {
		return false
	}
	sum, n := 0.0, 0
	for _, row := range body[i+1:] {
		v, ok := r.count(row)
		if !ok || !r.knows(r.plantCell(row).text) {
			break
		}
		sum, n = sum+v, n+1
	}
	return n > 1 && sum == want
}

// count gives a row's quantity where it is one plain figure.
func (l *list) count(row []cell) (float64, bool) {
	m := quantityForm.FindStringSubmatch(l.cell(row, quantityColumn).text)
	if m == nil {
		return 0, false
	}
	return l.figure(m[1])
}

// withoutArea gives a bed's name without the area behind it, which is told.
func (l *list) withoutArea(title cell) cell {
	m := squareAtEnd.FindStringSubmatchIndex(title.text)
	if m == nil || m[0] == 0 {
		return title
	}
	l.tellArea(title.span, title.text[m[2]:m[3]])
	title.text = strings.TrimRight(title.text[:m[0]], " :,")
	return title
}

func (l *list) tellArea(at source.Span, area string) {
	l.found.Add(source.Note, "list/bed-area", at, fmt.Sprintf("the area of %s is not taken from the list", area), "write it in garden.yaml, under beds: area")
}

// unused tells of a row that was read as the name of a bed and has no plants.
func (r *rowReader) unused() {
	if r.guessed.text != "" {
		r.found.Add(source.Note, "list/remark", r.guessed.span, "no plant stands below this row: it is read as a remark, not as a plant")
		r.guessed = cell{}
	}
}

// mostNamed is how many beds or columns a note names.
const mostNamed = 12

// tellBeds tells which rows were read as the names of beds.
func (r *rowReader) tellBeds() {
	if len(r.named) == 0 {
		return
	}
	var beds []string
	for _, c := range r.named {
		if !slices.Contains(beds, c.text) && len(beds) <= mostNamed {
			beds = append(beds, c.text)
		}
	}
	r.found.Add(source.Note, "list/beds-named", r.named[0].span, fmt.Sprintf("%s read as the name of the bed of the rows below: %s", are(plural(len(r.named), "row")), listed(beds)),
		`of a plant write the botanical name; before a remark write "Note:"`)
}

// are puts the verb behind what was counted.
func are(counted string) string {
	if strings.HasPrefix(counted, "1 ") {
		return counted + " is"
	}
	return counted + " are"
}

// listed joins words with commas, as many as a note has room for.
func listed(words []string) string {
	if len(words) > mostNamed {
		words = append(slices.Clone(words[:mostNamed]), "and more")
	}
	return strings.Join(words, ", ")
}
