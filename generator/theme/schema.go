package theme

import (
	"strings"

	"sheaf/generator/schema"
)

// Schema describes the file theme.yaml that [Load] reads. Nothing in it must be
// there: what is left out is the default theme's.
func Schema() schema.Schema {
	keys := []schema.Key{
		schema.May("theme", schema.Text("The theme's name.", "fieldbook")),
		schema.May("colours", schema.Object("The colours, as #rrggbb in quotes.",
			schema.May("light", paletteSchema("On paper, and on a light screen.", "#fbfaf0", "#2b3a33", "#d5d0c0")),
			schema.May("dark", paletteSchema("On a dark screen.", "#101412", "#cfd8d0", "#333d36")))),
		schema.May("faces", facesSchema()),
		schema.May("web", schema.Object("Font families for browsers, as CSS lists them; the faces go before them.",
			schema.May("body", schema.Form("For running text.", stackPattern, `Georgia, "Noto Serif", serif`)),
			schema.May("heading", schema.Form("For headings.", stackPattern, `"Noto Sans", sans-serif`)))),
	}
	keys = append(keys, settingKeys(booklet())...)
	var ways []schema.Key
	for _, w := range furniture() {
		ways = append(ways, schema.May(w.key, schema.Words(w.about, w.words)))
	}
	keys = append(keys,
		schema.May("large", schema.Object("Large print, on whole sheets.", settingKeys(largePrint())...)),
		schema.May("print", schema.Object("How printed pages are furnished.", ways...)),
		schema.May("logo", schema.Object("A logo, on the cover and at the head of each page of the web edition.",
			schema.Must("file", schema.Text("A file of the theme's folder: SVG, PNG or JPEG.")),
			schema.Must("alt", schema.Text("What it says, for those who do not see it.", "Practice of garden design")),
			schema.May("print", schema.Text("The same for paper, when the file is an SVG: PNG or JPEG.")))),
		schema.May("cover", schema.Object("What the cover shows.",
			schema.May("row", schema.Flag("The garden's plants in a row; true without it.")),
			schema.May("picture", schema.Text("A photograph of the theme's folder instead: PNG or JPEG.")),
			schema.May("alt", schema.Text("What the picture shows, for those who do not see it.", "Oats in frost")))),
		schema.May("sections", schema.List("The sections in their order; what is not named is left out. A page of the theme's own is named by its file.",
			schema.Form("", `^(`+strings.Join(SectionNames(), "|")+`|.+\.md)$`, "contents", "glossary"))))
	return schema.Object("The look of all editions: the file theme.yaml.", keys...)
}

func settingKeys(l limits) []schema.Key {
	numbers := func(about string, all []limit) schema.Schema {
		var keys []schema.Key
		for _, k := range all {
			keys = append(keys, schema.May(k.key, schema.Number(k.about, k.low, k.high)))
		}
		return schema.Object(about, keys...)
	}
	return []schema.Key{
		schema.May("sizes", numbers("Type, in points.", l.sizes)),
		schema.May("margins", numbers("White round a page, in millimetres.", l.margins)),
	}
}

// paletteSchema describes the colours of a mode, with one to show for each kind.
func paletteSchema(about, paper, ink, hairline string) schema.Schema {
	var keys []schema.Key
	for _, k := range [][3]string{
		{"paper", "The ground of the page.", paper}, {"ink", "Text, the darkest colour or on a dark screen the lightest.", ink}, {"quiet", "Captions and lines of small weight.", ink},
		{"straw", "Combing and grooming.", ink}, {"clay", "Cutting back and pruning.", ink}, {"moss", "What makes plants grow.", ink}, {"frost", "What protects them.", ink},
		{"hairline", "The finest lines.", hairline}} {
		keys = append(keys, schema.May(k[0], schema.Form(k[1], "^#[0-9a-fA-F]{6}$", k[2])))
	}
	return schema.Object(about, keys...)
}

func facesSchema() schema.Schema {
	var keys []schema.Key
	for _, r := range roles() {
		keys = append(keys, schema.May(r.key, schema.Text(r.about, shippedNames()...)))
	}
	return schema.Object("The typefaces by what they are for: one that ships, name.ttf of the theme's folder, or one of the system by its whole name.", keys...)
}
