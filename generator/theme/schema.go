package theme

import "sheaf/generator/schema"

// Limits of what a booklet can be set in.
const (
	smallest, largest = 6, 60 // sizes, in points
	narrow, wide      = 5, 40 // margins, in millimetres
)

// Schema describes the file theme.yaml that [Load] reads.
func Schema() schema.Schema {
	sizes := schema.Must("sizes", numbersSchema("Type, in points.", smallest, largest, [][2]string{
		{"text", "Running text."}, {"leading", "From one line to the next."}, {"caption", "Captions and notes."},
		{"name", "A plant's name above its pages."}, {"title", "Titles of chapters."}, {"heading", "Headings within a chapter."}}))
	margins := schema.Must("margins", numbersSchema("White round a page, in millimetres.", narrow, wide, [][2]string{
		{"inner", "At the fold."}, {"outer", "At the outer edge."}, {"head", "Above the text."}, {"foot", "Below the text, with the page number."}}))
	return schema.Object("The look of all editions: the file theme.yaml.",
		schema.Must("theme", schema.Text("The theme's name.", "fieldbook")),
		schema.Must("colours", schema.Object("The colours, as #rrggbb in quotes.",
			schema.Must("light", paletteSchema("On paper, and on a light screen.")),
			schema.Must("dark", paletteSchema("On a dark screen.")))),
		schema.Must("faces", facesSchema()),
		sizes, margins,
		schema.Must("large", schema.Object("Large print, on whole sheets.", sizes, margins)))
}

func paletteSchema(about string) schema.Schema {
	var keys []schema.Key
	for _, k := range [][2]string{
		{"paper", "The ground of the page."}, {"ink", "Text, the darkest colour or on a dark screen the lightest."}, {"quiet", "Captions and lines of small weight."},
		{"straw", "Combing and grooming."}, {"clay", "Cutting back and pruning."}, {"moss", "What makes plants grow."}, {"frost", "What protects them."},
		{"hairline", "The finest lines."}} {
		keys = append(keys, schema.Must(k[0], schema.Form(k[1], "^#[0-9a-fA-F]{6}$", "#4a5750")))
	}
	return schema.Object(about, keys...)
}

func facesSchema() schema.Schema {
	var keys []schema.Key
	for _, k := range [][2]string{
		{"body", "Running text and captions."}, {"bold", "Words that stand out."}, {"italic", "Botanical names in running text."},
		{"small-caps", "Selling names."}, {"heading", "Headings and titles."}, {"heading-italic", "Botanical names in headings."}} {
		keys = append(keys, schema.Must(k[0], schema.Words(k[1], shippedNames())))
	}
	return schema.Object("The typefaces by what they are for.", keys...)
}

func numbersSchema(about string, low, high float64, names [][2]string) schema.Schema {
	var keys []schema.Key
	for _, n := range names {
		keys = append(keys, schema.Must(n[0], schema.Number(n[1], low, high)))
	}
	return schema.Object(about, keys...)
}
