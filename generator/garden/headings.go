package garden

import (
	"regexp"
	"strings"

	"sheaf/generator/fields"
	"sheaf/generator/names"
)

// column is what a column of a plant list holds.
type column int

const (
	plantColumn column = iota
	cultivarColumn
	quantityColumn
	bedColumn
	plantedColumn
	sizeColumn
	girthColumn
	notesColumn
	careColumn
	flowersColumn
	genusColumn
	markColumn
	commonColumn  // what people call the plant: read where no column has the botanical name
	columns       // how many are read
	privateColumn // known and never read: what is between the designer and others, or said elsewhere
)

// columnNames are the words for what a column holds, as garden.yaml has them. The
// last leaves out a column that would be read.
func columnNames() []string {
	return []string{"plant", "cultivar", "quantity", "bed", "planted", "size", "girth", "notes", "care", "flowers", "genus", "mark", "common", "private"}
}

// headings gives the words designers write above each column in English, German,
// Dutch and French, the plainest first; two that say the same thing in one list are
// told apart by that. Capitals, accents and points do not count.
func headings() [columns + 2][]string {
	return [columns + 2][]string{
		plantColumn: {"botanical name", "botanical", "latin name", "latin", "scientific name", "full botanical name", "latin plant name",
			"botanischer name", "botanische bezeichnung", "wissenschaftlicher name", "lateinischer name", "botanische naam", "wetenschappelijke naam", "latijnse naam",
			"nom botanique", "nom latin", "nom scientifique", "taxon",
			"plant", "plants", "species", "plant species", "species name", "plant name", "planting", "plant list", "name", "genus and species", "genus species", "plant type and species",
			"pflanze", "pflanzen", "pflanzenname", "pflanzenart", "art", "gattung art", "gattung und art", "gattung art sorte", "name der pflanze", "gehölz", "gehölze", "baumart", "staude", "stauden",
			"plantnaam", "naam plant", "naam", "soort", "soortnaam", "soort cultivar", "planten", "boomsoort", "beplanting",
			"plante", "plantes", "nom de la plante", "nom", "espèce", "espèces", "essence", "végétal", "végétaux", "genre et espèce", "désignation"},
		cultivarColumn: {"cultivar", "variety", "var", "cv", "variety or cultivar", "sorte", "sortenname", "cultivarnaam", "ras", "cultivar naam", "variété"},
		quantityColumn: {"quantity", "qty", "quantities", "quantity required", "qty required", "total quantity", "total qty", "total no", "no required", "no off", "no of plants", "number of plants", "plant nos", "number required",
			"anzahl", "stückzahl", "stück", "stk", "stck", "menge", "gesamtmenge", "anzahl pflanzen", "aantal", "aantal planten", "aantallen", "totaal aantal", "stuks", "hoeveelheid",
			"quantité", "quantités", "qté", "qte", "nombre", "nombre de plantes", "nb", "nbre", "nb plants",
			"amount", "count", "how many", "number", "no", "nos", "n°", "nr", "pcs", "st"},
		bedColumn: {"bed", "bed name", "bed no", "bed ref", "bed reference", "bed number", "planting bed", "planting area", "border", "border name", "area name", "area ref", "location", "zone", "area", "position", "where",
			"beet", "beetname", "beet nr", "pflanzbeet", "pflanzfläche", "standort", "bereich", "fläche", "teilfläche", "gartenbereich", "ort", "vak", "vaknummer", "plantvak", "plantvak nr", "border naam", "locatie", "plaats", "standplaats",
			"massif", "nom du massif", "plate-bande", "emplacement", "localisation", "secteur", "lieu", "parterre"},
		plantedColumn: {"planted", "date planted", "planting date", "date of planting", "planted on", "plant date", "year planted", "when planted", "installed", "date installed", "install date", "installation date",
			"pflanzdatum", "gepflanzt", "gepflanzt am", "pflanzjahr", "pflanztermin", "plantdatum", "geplant", "aanplantdatum", "plantjaar", "date de plantation", "planté le", "année de plantation",
			"date", "year", "datum", "jahr", "jaar", "année"},
		sizeColumn: {"size", "pot", "pot size", "supplied", "supply size", "container", "spec", "specification", "container size", "size supplied", "supplied as", "plant size", "size at planting", "stock size", "grade", "form and size", "height", "form",
			"größe", "groesse", "pflanzgröße", "qualität", "qualitaet", "lieferqualität", "lieferform", "topf", "topfgröße", "container größe", "höhe", "maat", "potmaat", "kwaliteit", "plantmaat", "leverwijze", "hoogte",
			"taille", "force", "conditionnement", "contenant", "calibre", "qualité", "hauteur", "dimension", "dimensions"},
		girthColumn: {"girth", "stem girth", "girth size", "girth at planting", "stem circumference", "trunk circumference", "circumference", "tree size",
			"stammumfang", "stu", "umfang", "stamomtrek", "omtrek", "circonférence", "circonférence du tronc", "force tronc"},
		notesColumn: {"notes", "note", "remarks", "remark", "comments", "comment", "description",
			"bemerkung", "bemerkungen", "anmerkung", "anmerkungen", "hinweis", "hinweise", "notiz", "notizen", "opmerking", "opmerkingen", "notities", "toelichting", "remarque", "remarques", "commentaire", "commentaires", "observations"},
		careColumn:    {"care", "care group", "pflegegruppe"},
		flowersColumn: {"flowers", "flowering", "flowering time", "flowering period", "flowering months", "flower months", "flowering season", "bloom", "blooms", "bloom time", "blütezeit", "blüte", "bloeitijd", "bloeimaanden", "bloei", "floraison", "période de floraison"},
		genusColumn:   {"genus", "gattung", "geslacht", "genre"},
		markColumn: {"mark", "ref", "key", "code", "plan no", "plant ref", "plant code", "plant key", "abbr", "abbreviation", "symbol", "drawing ref", "plan ref", "reference", "item", "item no", "pos", "position no",
			"kürzel", "kurzzeichen", "zeichen", "lfd nr", "positionsnummer", "planzeichen", "plancode", "afkorting", "volgnummer", "repère", "abréviation", "sigle"},
		commonColumn: {"common", "common name", "common names", "english name", "vernacular name", "popular name",
			"deutscher name", "deutsche bezeichnung", "trivialname", "volksname", "nederlandse naam", "volksnaam", "nom commun", "nom français", "nom vernaculaire", "nom anglais", "englischer name", "engelse naam"},
		privateColumn: {"private", "internal", "internal notes", "office notes", "client", "client notes", "supplier", "nursery", "price", "unit price", "price each", "rate", "cost", "unit cost", "total cost", "total price", "margin", "order no", "order ref", "vat",
			"preis", "einzelpreis", "gesamtpreis", "lieferant", "baumschule", "prijs", "stukprijs", "totaalprijs", "leverancier", "kweker", "prix", "prix unitaire", "prix total", "montant", "fournisseur", "pépinière",
			"density", "spacing", "centres", "plant centres", "spacing mm", "pflanzabstand", "abstand", "plantafstand", "dichtheid", "densité", "espacement", "interdistance", "area m2", "bed area", "m2", "sqm", "sq m", "fläche m2", "oppervlakte", "surface", "superficie",
			"per m2", "no m2", "no per m2", "plants per m2", "density per m2", "stück m2", "stk m2", "st m2", "plants m2", "planten m2", "stuks m2", "aantal m2", "u m2",
			// What --fix adds, and is no part of the list.
			wasHeading, questionHeading, meanHeading},
	}
}

// Headings of the columns that [Fixed] adds beside "care".
const (
	wasHeading      = "was"
	questionHeading = "question"
	meanHeading     = "did you mean"
)

// A meaning is a column that a heading stands over, and how plainly it says so: the
// lower, the plainer.
type meaning struct {
	column column
	rank   int
}

// A lexicon knows headings: the program's, and before them those a garden names
// itself.
type lexicon struct{ words, own map[string]meaning }

// plainest is the rank of what the garden itself says.
const plainest = -1

func newLexicon(own []fields.Pair) *lexicon {
	x := &lexicon{words: map[string]meaning{}, own: map[string]meaning{}}
	for c, words := range headings() {
		for rank, w := range words {
			if w = foldHeading(w); w != "" {
				if _, taken := x.words[w]; !taken {
					x.words[w] = meaning{column(c), rank}
				}
			}
		}
	}
	for _, p := range own {
		if c, ok := x.named(p.Value.Value); ok {
			x.own[strings.ToLower(strings.TrimSpace(p.Key.Value))] = meaning{c, plainest}
		}
	}
	return x
}

// named gives the column of a word that garden.yaml uses for one.
func (x *lexicon) named(word string) (column, bool) {
	for i, n := range columnNames() {
		if strings.EqualFold(n, word) {
			if n == "private" {
				return privateColumn, true
			}
			return column(i), true
		}
	}
	m, ok := x.words[foldHeading(word)]
	return m.column, ok
}

var (
	// aside is what a heading adds in brackets: "Size (litres)".
	aside = regexp.MustCompile(`\s*[(\[].*?[)\]]`)
	// inUnits is the unit that a heading of sizes ends with: "Girth cm".
	inUnits = regexp.MustCompile(` (?:in )?(?:cm|mm|m|l|lt|ltr|litres?|liter)$`)
	// several part headings that name two things: "Area / bed".
	several = regexp.MustCompile(`\s*[/|,+]\s*|\s+(?:&|or|oder|of|ou)\s+`)
	// ofArea tells a heading of square metres, whatever the word before it.
	ofArea = regexp.MustCompile(`(?i)(?:m2|m²|sq\.? ?(?:m|ft)|sqm)\b|m²`)
)

// longestHeading is how much of a cell is looked at as one.
const longestHeading = 200

// column tells which column a heading stands over.
func (x *lexicon) column(heading string) (meaning, bool) {
	if m, ok := x.own[strings.ToLower(strings.TrimSpace(heading))]; ok {
		return m, true
	}
	if len(heading) > longestHeading {
		return meaning{}, false
	}
	whole := foldHeading(heading)
	if m, ok := x.words[whole]; ok {
		return m, true
	}
	bare := aside.ReplaceAllString(heading, "")
	area := ofArea.MatchString(heading)
	m, ok := x.words[foldHeading(bare)]
	switch {
	case ok && area && m.column != notesColumn:
		return meaning{privateColumn, 0}, true // "Area (m²)", "No. (per m²)"
	case ok:
		return m, true
	}
	if short := inUnits.ReplaceAllString(foldHeading(bare), ""); short != foldHeading(bare) {
		if m, ok := x.words[short]; ok && (m.column == sizeColumn || m.column == girthColumn) {
			return m, true
		}
	}
	parts := several.Split(bare, -1)
	if len(parts) < 2 || area {
		return meaning{}, false
	}
	var first meaning
	for i, part := range parts {
		m, ok := x.words[foldHeading(part)]
		if !ok {
			return meaning{}, false
		}
		if i == 0 {
			first = m
		}
	}
	return first, true
}

// foldHeading is a heading without capitals, accents and marks.
func foldHeading(s string) string { return names.Folded(headingSigns.Replace(s)) }

var headingSigns = strings.NewReplacer("²", "2", "°", "o ")
