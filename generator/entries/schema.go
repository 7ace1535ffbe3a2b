package entries

import (
	"sheaf/generator/measure"
	"sheaf/generator/schema"
)

// Known are the names a library has, offered while a file is written. A
// library of one's own may add to them, so none other is refused.
type Known struct{ Groups, Jobs []string }

// EntrySchema describes the front matter that [ParseEntry] reads.
func EntrySchema(known Known) schema.Schema {
	return schema.Object("One plant and its care: the front matter of a file in the folder plants.",
		schema.Must("botanical", schema.Text("The botanical name by the Codes, a cultivar in single quotes.", "Sesleria autumnalis", "Hakonechloa macra 'Aureola'")),
		schema.May("common", schema.Some(schema.Text("What people call the plant. The first name is used in sentences.", "autumn moor grass"))),
		schema.May("synonyms", schema.Some(schema.Text("Older or other botanical names under which a list may have the plant.", "Perovskia atriplicifolia"))),
		schema.May("serves", schema.Words("Whom the entry serves besides its species: every garden plant of the genus, names of genus and cultivar alone, or all of a genus cautiously because its plants are kept in several ways.", serves())),
		schema.May("except", schema.Some(schema.Text("Botanical names that the entry must not serve.", "Amsonia grandiflora"))),
		schema.May("cultivars", schema.Some(schema.Text("Cultivars and selling names that lists print with the genus alone.", "Blue Spire"))),
		schema.May("asks", schema.Object("What a cautious entry asks of its plant.",
			schema.Must("question", schema.Text("One question that is answered by looking at the plant.", "Does it flower before midsummer, on shoots of last year?")),
			schema.Must("answers", schema.List("Two answers or more.", schema.Object("",
				schema.Must("answer", schema.Text("What is seen.")),
				schema.Must("care", schema.Text("The care group, or the botanical name of the entry, that it leads to.", known.Groups...))))))),
		schema.May("family", schema.Text("The botanical family.", "Poaceae", "Lamiaceae")),
		schema.Must("type", schema.Words("What kind of plant it is. Care groups and checks ask for it.", Types())),
		schema.Must("leaf", schema.Words("Whether it keeps its leaves in winter. An evergreen is never cut to a stub.", leafWords())),
		schema.May("growth", schema.Words("Only for grasses, sedges, rushes and bamboos: in which season it grows. It decides when the plant is cut.", growthWords())),
		schema.Must("habit", schema.Words("The outline in which the plant is drawn.", habits())),
		schema.May("flower-head", schema.Words("The flowers in the drawing.", heads())),
		schema.Must("height", lengthSchema("How high its leaves stand when it is grown; a range is allowed.", "35 cm", "60 to 90 cm")),
		schema.May("flower-height", lengthSchema("How high its flowers stand, where they rise well above the leaves.", "55 cm")),
		schema.Must("spread", lengthSchema("How broad it is when it is grown.", "45 cm")),
		schema.May("flowers", schema.Text("When it flowers, in months or seasons of the north.", "June to August", "late spring")),
		schema.May("colours", schema.Object("The two colours of the drawing.",
			schema.May("leaf", colourSchema("The leaves, as #rrggbb in quotes.", "#6f8657")),
			schema.May("flower", colourSchema("The flowers, as #rrggbb in quotes.", "#a98d5f")))),
		schema.May("zone", schema.Text("The coldest USDA zone in which it is kept outdoors, from an American source that is named under sources.", "Z4")),
		schema.May("lifted", schema.Flag("True for what winters indoors: nobody is warned of frost.")),
		schema.May("hardy", schema.Text("The winter cold it stands as its own country says it: an RHS rating H1a to H7, or a lowest night. None is turned into a zone.", "-15 °C", "H6")),
		schema.May("light", schema.Some(schema.Words("The light it likes, the best first.", Light()))),
		schema.May("soil", schema.Some(schema.Words("How wet the soil may be, the best first.", Soil()))),
		schema.May("likes", schema.Object("What else it likes.", schema.May("fertility", schema.Words("How rich the soil should be.", Fertility())))),
		schema.May("hazards", schema.Some(schema.Words("What the plant can do to people and pets. The booklet prints a caution for each.", Hazards()))),
		schema.May("cautions", schema.Some(schema.Text("Whole sentences for whoever touches the plant, printed with each of its jobs. What a hazard says is not said again."))),
		schema.May("care-group", schema.Text("The care group that brings its rules. An entry without rules of its own must name one.", known.Groups...)),
		schema.May("without", schema.Some(schema.Text("Jobs of the care group that are not done to this plant.", known.Jobs...))),
		schema.May("care", rulesSchema("The plant's own rules. A rule for a job that the care group has too is laid over the group's.", known)),
		schema.May("adjust", schema.List("What the place changes.", schema.Object("",
			append([]schema.Key{schema.Must("if", schema.Words("The condition of the place.", conditions()))}, AdjustKeys(known.Jobs)...)...))),
		schema.May("stands", standsSchema()),
		schema.May("sources", sourcesSchema()),
		schema.May("contributor", schema.Text("Who wrote the entry, for the credits of a guide.")),
		schema.May("tags", schema.Some(schema.Text("Words by which a guide can choose entries.", "winter", "coast"))),
		schema.May("photo", schema.Object("A photograph of the plant.", PhotoKeys()...)))
}

// GroupSchema describes the front matter that [ParseGroup] reads.
func GroupSchema(known Known) schema.Schema {
	return schema.Object("Care that many plants share: the front matter of a file in the folder groups.",
		schema.Must("group", schema.Text("The group's name, by which entries call it.", "deciduous cool-season grass")),
		schema.May("summary", schema.Text("What the group is and what is done, in one sentence.")),
		schema.May("types", schema.Some(schema.Words("Which types of plant may be in the group; without it all may.", Types()))),
		schema.May("leaf", schema.Some(schema.Words("Which plants may be in the group by their leaves in winter; without it all may.", leafWords()))),
		schema.May("stands", standsSchema()),
		schema.May("care", rulesSchema("The rules of every plant in the group.", known)),
		schema.May("sources", sourcesSchema()))
}

// AdjustKeys are the keys that [ParseAdjust] reads.
func AdjustKeys(jobs []string) []schema.Key {
	return []schema.Key{
		schema.May("job", schema.Text("The job that changes. Without it the note is about the whole plant.", jobs...)),
		schema.May("leave", leaveSchema()),
		schema.May("when", whenSchema("The window in such a place.")),
		schema.May("note", schema.Text("What is printed there, in whole sentences.", "Expect lax leaf. Do not feed.")),
		schema.May("skip", schema.Flag("True leaves the job out in such a place.")),
	}
}

// PhotoKeys are the keys that [ParsePhoto] reads.
func PhotoKeys() []schema.Key {
	return []schema.Key{
		schema.Must("file", schema.Form("A .jpg or .png file in the folder photos.", `\.([jJ][pP][eE]?[gG]|[pP][nN][gG])$`, "oats.jpg")),
		schema.Must("alt", schema.Text("What the photograph shows, for those who cannot see it.", "Tall oats against a dark hedge")),
		schema.May("credit", schema.Text("Who took it.")),
	}
}

func rulesSchema(about string, known Known) schema.Schema {
	return schema.List(about, schema.Object("",
		schema.Must("job", schema.Text("What is done. Each job has a page of its own in jobs.", known.Jobs...)),
		schema.May("when", whenSchema("When it is done, by months, seasons, days or what is seen in the garden.")),
		schema.May("leave", leaveSchema()),
		schema.May("look-for", schema.Text("What is seen when the time has come.")),
		schema.May("how", schema.Text("How it is done, one instruction a sentence.")),
		schema.May("why", schema.Text("Why it is done.")),
		schema.May("if-missed", schema.Text("What to do when the time is past.")),
		schema.May("stop-if", schema.Text("What must make the owner stop.")),
		schema.May("postpone-if", schema.Text("What must make the owner wait.")),
		schema.May("tools", schema.Some(schema.Text("What is needed, with what protects hands and eyes.", "hand shears", "gloves"))),
		schema.May("never", schema.Some(schema.Text("Times in which it must not be done.", "autumn", "early winter"))),
		schema.May("not-before", yearSchema("The first growing year after planting in which it is done.")),
		schema.May("only", yearSchema("The one growing year after planting in which it is done.")),
		schema.May("every", schema.Form("How often it is done; without it every year.", measure.EveryForm(), "1 year", "3 years")),
		schema.May("needs", schema.Words("What the place must have. Where it has not, the rule is not dated and not printed.", needs())),
		schema.May("minutes", schema.Either("Minutes for one plant and someone practised; a range is allowed.",
			schema.AtLeast("", 0, 3), schema.Form("", measure.MinutesForm(), "2 to 4"))),
		schema.May("hard", schema.Flag("True says that it cuts a woody plant to the ground, for laws that forbid that in some months.")),
		schema.May("pests", schema.Some(schema.Text("The pests that it is about. Where none of them lives it is left out.", "lily beetle"))),
		schema.May("cautions", schema.Some(schema.Text("What can hurt, in whole sentences; one with a comma in quotes.", "Cut canes are sharp, so wear gloves.")))))
}

func whenSchema(about string) schema.Schema {
	return schema.Text(about, "4 weeks before first green to first green", "after flowering", "mid spring or early autumn", "15 March to late April")
}

func leaveSchema() schema.Schema {
	return schema.Text("What stays on the plant, never what comes off: a length, a part, or words.", "5 cm", "one third", "all green leaf")
}

func lengthSchema(about string, examples ...string) schema.Schema {
	return schema.Form(about, measure.LengthForm(), examples...)
}

func yearSchema(about string) schema.Schema {
	return schema.Form(about, measure.YearForm(), "year 2")
}

func colourSchema(about, example string) schema.Schema {
	return schema.Form(about, "^#[0-9a-fA-F]{6}$", example)
}

func standsSchema() schema.Schema {
	return schema.Some(schema.Words("Harsh treatment that the plant bears although its kind does not. Without it such advice is refused.", stands()))
}

func sourcesSchema() schema.Schema {
	return schema.Some(schema.Text("Where the facts come from; what has no published source is common practice.", "common practice"))
}
