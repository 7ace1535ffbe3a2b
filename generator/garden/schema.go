package garden

import (
	"slices"

	"sheaf/generator/entries"
	"sheaf/generator/measure"
	"sheaf/generator/schema"
)

// Schema describes the file that [Parse] reads. The codes of countries are
// those a library has rules for; none other is refused.
func Schema(countries []string) schema.Schema {
	columns := columnNames()
	slices.Sort(columns)
	return schema.Object("One garden: its place, its beds and its plants.",
		schema.Must("garden", schema.Text("The garden's name, as it is printed on the cover.", "Dovecote Barn")),
		schema.May("kind", schema.Words("A handover to its owners, or a club's guide.", kinds())),
		schema.May("for", schema.Text("For whom the booklet is; printed on the cover.", "the owners")),
		schema.May("by", schema.Text("Who made the garden; printed on the cover.")),
		schema.May("date", schema.Form("The day of the handover. The first year of the booklet begins in its month.", `\d.*\d{2}`, "2027-03-20")),
		schema.May("edition", schema.Text("Of a guide: which edition it is; printed on the cover.", "Second edition")),
		schema.May("include", schema.Object("Of a guide: what it takes. Without types, tags and a plant list it is every entry of its own libraries.",
			schema.May("types", schema.Some(schema.Words("Types of plants.", entries.Types()))),
			schema.May("tags", schema.Some(schema.Text("Tags of entries.", "winter"))),
			schema.May("also", schema.Some(schema.Text("Single plants besides, of any library.", "Hakonechloa macra"))))),
		schema.May("permissions", schema.Some(schema.Text("Of a guide: whose leave it has to print what others made.", "Photographs with the leave of those named beside them."))),
		schema.May("skill", schema.Words("Whose time is reckoned with: an owner takes longer than a gardener.", skills())),
		schema.May("mulch", schema.Form("How deep mulch is laid.", measure.LengthForm(), "5 cm")),
		schema.May("years", schema.Whole("How many years the booklet covers.", 1, 10, 1)),
		schema.Must("site", siteSchema(countries)),
		schema.May("language", schema.Text("The language of the booklet, as BCP 47 writes it: en-GB, en-US, de, or one that the theme has words for.")),
		schema.May("units", schema.Words("Centimetres, or feet and inches; without it those of the country.", systems())),
		schema.May("paper", schema.Words("The paper in the printer; without it that of the country.", papers())),
		schema.May("fold", schema.Object("The folded edition.", schema.May("gsm", schema.Number("The weight of its paper in grams a square metre.", 40, 400, 80, 100)))),
		schema.May("calendar", schema.Words("One event for each garden day, for each task, or for each month.", calendars())),
		schema.May("work", schema.Words("How the booklet lists the work: by garden days, each of which does all that falls due together, or by months.", works())),
		schema.May("day", schema.Form("How long a garden day is at most; without it 4 hours for an owner, 7 for a gardener.", hoursForm, "4 hours")),
		schema.May("weekdays", schema.Some(schema.Words("The days on which the garden is worked; any day without it.", weekdays()))),
		schema.May("type", schema.Words("The size of print: usual is 10.5 pt, clear is 12 pt and takes more pages.", typeSizes())),
		schema.May("alarm", schema.Form("How long before an event a reminder comes; none without it.", `^([0-9]|[1-5][0-9]|60) days?$`, "7 days")),
		schema.May("library", schema.Some(schema.Text("Library folders, seen from this one, the first found wins; built-in is what ships.", "built-in"))),
		schema.May("beds", schema.List("The beds, by the names the plant list gives them.", bedSchema())),
		schema.May("plants", schema.Either("The plant list: the name of a CSV or XLSX file, or the plants themselves.",
			schema.Text("", "plants.csv", "plants.xlsx"), schema.List("", rowSchema()))),
		schema.May("sheet", schema.Text("Which sheet of a workbook is the plant list; without it the one that looks most like one.")),
		schema.May("columns", schema.Table("What the columns of the list hold that are not known by their headings.", schema.Words("", columns))),
		schema.May("pages", schema.Some(schema.Text("Pages of your own at the beginning of the booklet.", "pages/welcome.md"))),
		schema.May("photos", schema.List("Photographs of the garden's plants.", schema.Object("",
			append([]schema.Key{schema.Must("plant", schema.Text("The plant it shows, by any of its names."))}, entries.PhotoKeys()...)...))),
		schema.May("adjust", schema.List("What this garden changes of its plants' care. It goes before what their entries say.", adjustSchema())),
		schema.May("theme", schema.Text("The look of all editions: a theme that ships, or the folder of another, seen from this one.", "fieldbook", "../our-look")),
		schema.May("contacts", schema.List("Whom to ask; printed on the back cover.", schema.Object("",
			schema.May("name", schema.Text("Who it is.")),
			schema.May("text", schema.Text("How and when to reach them."))))),
		schema.May("acknowledged", schema.Some(schema.Text("Plants that may not be planted here and are there all the same. The booklet prints the law and how to remove them.", "Cenchrus setaceus"))),
		schema.May("private", schema.Some(schema.Text("Words for whoever makes the booklet. They are in no edition.", "ring before the mulch is ordered"))),
		schema.May("online", schema.Form("Where the web edition is; printed with a QR code.", `^https?://\S{0,192}$`, "https://example.org/garden")))
}

func siteSchema(countries []string) schema.Schema {
	means := func(about string) schema.Schema {
		return schema.Exactly(12, about, schema.Number("", -76, 131))
	}
	return schema.Object("Where the garden is. The dates of all work come from this.",
		schema.May("country", schema.Text("The country's two letters: nesting season, rules, paper and units.", countries...)),
		schema.May("region", schema.Text("The part of the country that has laws of its own: its letters or its name. Closed seasons and regulated plants hang on it.", "VIC", "NY", "Brussels")),
		schema.Must("latitude", schema.Number("Degrees north of the equator; negative south of it.", -90, 90, 52.2, -37.8)),
		schema.May("elevation", schema.Form("How high the garden lies above the sea.", measure.LengthForm(), "26 m")),
		schema.May("normals", schema.Object("Monthly means of the nearest weather station, January first.",
			schema.Must("min", means("The twelve mean minima.")),
			schema.Must("max", means("The twelve mean maxima.")),
			schema.May("unit", schema.Words("The unit of both.", temperatureUnits())),
			schema.May("source", schema.Text("Where the figures come from; printed in the booklet.")))),
		schema.May("frost", schema.Object("Frost dates known in the garden. They go before those that are computed.",
			schema.May("last", schema.Text("The usual last frost of spring.", "18 April")),
			schema.May("first", schema.Text("The usual first frost of autumn.", "2 November")))),
		schema.May("coldest-night", schema.Text("The lowest night of an average winter, or a rating or zone.", "-7 °C", "H4", "Z8b")))
}

func bedSchema() schema.Schema {
	return schema.Object("",
		schema.Must("bed", schema.Text("The bed's name.", "Courtyard")),
		schema.May("light", schema.Words("How much sun it has.", entries.Light())),
		schema.May("soil", schema.Words("How wet its soil is.", entries.Soil())),
		schema.May("fertility", schema.Words("How rich its soil is.", entries.Fertility())),
		schema.May("exposure", schema.Words("How much wind it has.", entries.Exposure())),
		schema.May("style", schema.Words("The style of planting, to compare with published care times.", Styles())),
		schema.May("area", schema.Form("Its area, to reckon mulch and crowding.", measure.AreaForm(), "14 m²", "150 sq ft")))
}

func adjustSchema() schema.Schema {
	keys := []schema.Key{
		schema.Must("plant", schema.Text("The plant, by its name in the list or that of its entry.", "Molinia caerulea")),
		schema.May("bed", schema.Text("The bed in which it stands; all of them without it.", "Courtyard")),
	}
	keys = append(keys, entries.AdjustKeys(nil)...)
	return schema.Object("", append(keys, schema.May("text", schema.Text("What is printed in place of the entry's text, in Markdown: what the plant looks like, why it is cared for so, and what to expect.")))...)
}

func rowSchema() schema.Schema {
	return schema.Object("",
		schema.Must("plant", schema.Text("The plant's botanical name.", "Sesleria autumnalis")),
		schema.May("quantity", schema.Number("How many are planted; one without it.", 0, most, 7)),
		schema.May("bed", schema.Text("The bed they stand in.", "Courtyard")),
		schema.May("planted", schema.Either("When they were planted; at the handover without it.",
			schema.Text("", "2026-10-15", "October 2026"), schema.Whole("", 1900, 2199, 2026))),
		schema.May("size", schema.Text("The size as bought.", "2 L")),
		schema.May("pot", schema.Flag("True for a plant that grows in a pot.")),
		schema.May("notes", schema.Text("Anything else; it is not printed.")),
		schema.May("care", schema.Text("A care group, for a plant that has no entry.")),
		schema.May("flowers", schema.Text("When such a plant flowers, in months of the north, if its care group asks for it.", "June to July")))
}

// The words that garden.yaml may use beside those for a place.

func kinds() []string            { return []string{Handover, Guide} }
func skills() []string           { return []string{string(Gardener), string(Owner)} }
func systems() []string          { return []string{"metric", "us"} }
func papers() []string           { return []string{"A4", "Letter"} }
func calendars() []string        { return []string{ByDay, ByTask, ByMonth} }
func works() []string            { return []string{ByDay, ByMonth} }
func typeSizes() []string        { return []string{"usual", "clear"} }
func temperatureUnits() []string { return []string{"°C", "°F", "C", "F"} }
