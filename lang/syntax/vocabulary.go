package syntax

import (
	"slices"

	"hemline/lang/quantity"
)

// ValueKind is what a value of a statement or clause must be.
type ValueKind uint8

// The kinds of values.
const (
	// VQuantity is an expression of the dimension that the Arg states.
	VQuantity ValueKind = iota
	// VExpr is an expression of any dimension.
	VExpr
	// VNew is a name that the statement gives.
	VNew
	// VName is a name from outside the text or of no list: a net, a finish.
	VName
	// VItem names an item of any kind, whatever word its name is.
	VItem
	// VWord is one of the Arg's words.
	VWord
	// VText is a text in quotes, or in its place one of the Arg's words.
	VText
	// VDate is a text "YYYY-MM-DD".
	VDate
	// VRef is the name of a statement of one of the Arg's keywords.
	VRef
	// VEdge names an edge of the outline or of a cutout.
	VEdge
	// VPosition is a length along an edge, `middle`, or on a circle's rim an angle.
	VPosition
	// VPoint is (x, y), two lengths.
	VPoint
	// VFace is top or bottom.
	VFace
	// VLayer names a copper layer of the stack.
	VLayer
	// VRule and VParameter name a rule and a fabricator's limit.
	VRule
	VParameter
)

// Arg is one value that a statement or clause takes.
type Arg struct {
	Name     string // what the references call it: W, EDGE, …
	Kind     ValueKind
	Dim      quantity.Dimension // of a VQuantity
	Likely   *Likely            // what is plausible for a length
	Words    []string           // of a VWord; for a VRef the keywords; for VEdge and VLayer words allowed beside names, for VText in place of a text; of a plain number those that it may be
	Share    bool               // of a VQuantity: a share in % may stand for it
	Optional bool
	Many     bool // one or more: the last Arg, or names before values that are none
}

// Spec is what the vocabulary says of one keyword: as a statement, or as a
// clause of the statement (or clause) that holds it.
type Spec struct {
	Word     string
	Args     []Arg
	Assign   bool // takes "= expression"
	Clauses  []*Spec
	Required bool       // the holder is incomplete without it
	Repeat   bool       // may stand more than once
	Sum      string     // one sentence: what it says
	Example  string     // as it may stand in a file
	OneOf    [][]string // groups of clauses of which exactly one must stand
	Partial  bool       // of a typical's kind: what is required may be missing
	Order    int        // of a statement, in the vocabulary
}

// Clause finds a clause of the spec by its keyword.
func (s *Spec) Clause(word string) *Spec {
	for _, c := range s.Clauses {
		if c.Word == word {
			return c
		}
	}
	return nil
}

// Names tells whether a statement gives a name.
func (s *Spec) Names() bool { return len(s.Args) > 0 && s.Args[0].Kind == VNew }

func length(name string) Arg { return Arg{Name: name, Kind: VQuantity, Dim: quantity.Length} }
func number(name string) Arg { return Arg{Name: name, Kind: VQuantity, Dim: quantity.None} }
func numberOf(name string, likely ...string) Arg {
	a := number(name)
	a.Words = likely
	return a
}
func arg(name string, kind ValueKind, words ...string) Arg {
	return Arg{Name: name, Kind: kind, Words: words}
}
func many(a Arg) Arg                             { a.Many = true; return a }
func clause(word, sum string, args ...Arg) *Spec { return &Spec{Word: word, Sum: sum, Args: args} }

// textOr is a text, or in its place one of a few words.
func textOr(words ...string) Arg { return Arg{Name: "TEXT", Kind: VText, Words: words} }

// noneOrMost is a clause that says none, or the most that is accepted.
func noneOrMost(word, sum string) *Spec {
	none := arg("none", VWord, "none")
	none.Optional = true
	return clause(word, sum, none).with(clause("maximum", "The most that is accepted.", length("L")))
}

func (s *Spec) required() *Spec       { s.Required = true; return s }
func (s *Spec) repeat() *Spec         { s.Repeat = true; return s }
func (s *Spec) with(c ...*Spec) *Spec { s.Clauses = append(s.Clauses, c...); return s }

var newName = arg("NAME", VNew)

// shapes of outlines and cutouts
func shapeClauses() []*Spec {
	round := func() *Spec {
		return clause("corner", "Radius of the round where the piece ends, tangent to it and to the next; positions still count from the sharp points.", length("R"))
	}
	return []*Spec{
		clause("rectangle", "A rectangle, W along x and H along y; its edges are south, east, north and west.", length("W")).with(
			clause("by", "Height, along y.", length("H")).required(),
			clause("corner", "Radius of all four corners; without it they are sharp.", length("R"))),
		clause("circle", "A circle of diameter D; its one edge is rim.", length("D")),
		clause("start", "Where a drawn path starts.", arg("POINT", VPoint)),
		clause("line", "A straight piece of a drawn path, from where the last piece ended.", newName).repeat().with(
			clause("to", "Where the piece ends.", arg("POINT", VPoint)).required(), round()),
		clause("arc", "A circular piece of a drawn path, counterclockwise unless it says clockwise.", newName).repeat().with(
			clause("to", "Where the arc ends.", arg("POINT", VPoint)).required(),
			clause("around", "The arc's centre; start and end lie equally far from it.", arg("POINT", VPoint)).required(),
			clause("clockwise", "The arc runs clockwise."), round()),
		clause("close", "The last straight piece, back to the start.", newName).with(round()),
	}
}

func stretchClauses(what string) []*Spec {
	return []*Spec{
		clause("on", "The edge "+what+" is on.", arg("EDGE", VEdge)).required(),
		clause("at", "The middle of "+what+", along the edge.", arg("P", VPosition)),
		clause("width", "How long "+what+" is, along the edge.", length("W")),
		clause("from", "Where "+what+" starts, along the edge.", arg("A", VPosition)).with(
			clause("to", "Where "+what+" ends, along the edge.", arg("B", VPosition)).required()),
	}
}

// openable is the clause by which a tab or a connector makes its own gap.
func openable(around string, more ...*Spec) *Spec {
	platings := many(arg("PLATING", VRef, "plating"))
	platings.Optional = true
	c := clause("opens", "It makes its own gap: in the platings named, or in all that run there.", platings).with(
		clause("margin", "How much is left free on each side of "+around+".", length("E")),
		clause("span", "How long the gap is, along the edge.", length("W"))).with(more...)
	c.OneOf = [][]string{{"margin", "span"}}
	return c
}

func fromTo() *Spec {
	return clause("from", "Only from here, along the edge named before.", arg("A", VPosition)).with(
		clause("to", "To here, along the edge.", arg("B", VPosition)).required())
}

// Offers are the words a fabricator's `offers` takes.
var Offers = []string{"edge_plating", "half_holes", "perforated_tabs", "premetallised_tabs", "plated_cutouts"}

// OfferSays says of each of Offers what the shop then makes.
var OfferSays = map[string]string{
	"edge_plating":       "edges of the outline that are plated, with their wraps",
	"half_holes":         "rows of plated holes on an edge, cut in half: castellations",
	"perforated_tabs":    "tabs with a row of holes, to be snapped",
	"premetallised_tabs": "tabs over which the copper of both faces runs on into the frame",
	"plated_cutouts":     "cutouts whose edge is plated",
}

// Hazards are the words a board's `hazard` takes.
var Hazards = []string{"none", "protective_earth", "live"}

// Words with a meaning of their own in the place of a name.
const (
	Middle = "middle"
	All    = "all"
	Top    = "top"
	Bottom = "bottom"
)

// vocabulary is the one table of the language's statements and clauses.
// Reading, completion, hover, the reference and the editors' highlighting all
// come from it.
var vocabulary = []*Spec{
	{Word: "hem", Args: []Arg{number("VERSION")}, Sum: "The version of the language, 1; optional, first in the file.", Example: "hem 1"},
	{Word: "use", Args: []Arg{arg("PATH", VText)}, Repeat: true, Example: `use "shops/standard.hem"`,
		Sum: "Brings in another file's let, fabricator, limit, stack, typical, tolerance and criteria statements; the path is relative to this file."},
	{Word: "let", Args: []Arg{newName}, Assign: true, Repeat: true, Example: "let long = 62 mm",
		Sum: "Names a value; it may stand before or after its use."},
	{Word: "board", Args: []Arg{newName}, Sum: "The board as a whole.", Example: "board receiver { frequency 10 GHz }", Clauses: []*Spec{
		clause("title", "What the board is, for people.", arg("TEXT", VText)),
		clause("revision", "The revision of the board.", arg("TEXT", VText)),
		clause("frequency", "The highest frequency that matters; with `to`, the band.", Arg{Name: "F", Kind: VQuantity, Dim: quantity.Frequency}).with(
			clause("to", "The upper end of the band.", Arg{Name: "F", Kind: VQuantity, Dim: quantity.Frequency})),
		clause("shielding", "What the plated wall must hold back, in dB.", Arg{Name: "LEVEL", Kind: VQuantity, Dim: quantity.Level}),
		clause("class", "Performance class of IPC-6012: 1, 2 or 3.", numberOf("CLASS", "1", "2", "3")),
		clause("thickness", "Finished thickness, where the file states no stack.", length("T")),
		clause("current", "The current that the plated wall carries.", Arg{Name: "I", Kind: VQuantity, Dim: quantity.Current}),
		clause("rise", "The rise of temperature allowed for that current, in K.", Arg{Name: "DT", Kind: VQuantity, Dim: quantity.Difference}),
		clause("voltage", "The highest voltage between the plated wall and other copper.", Arg{Name: "V", Kind: VQuantity, Dim: quantity.Voltage}),
		clause("hazard", "What the wall may carry: none, protective_earth where it is the product's protective earth, live where it is not safe to touch.", arg("WORD", VWord, Hazards...)),
		clause("number", "The number that the board's drawing goes by; without one it is the board's name.", arg("TEXT", VText)),
		clause("owner", "Who owns the board's drawing, for its title block.", arg("TEXT", VText)),
		clause("author", "Who made the drawing, for its title block.", arg("TEXT", VText)),
		clause("approver", "Who approved the drawing, for its title block.", arg("TEXT", VText)),
		clause("date", "The date of issue, for the title block; one that a command states comes before it.", arg("DATE", VDate)),
		clause("status", "The status of the drawing, for its title block: in work, released.", arg("TEXT", VText)),
		clause("material", "The family of laminate.", arg("TEXT", VText)),
		clause("finish", "The finish of the board; it holds for plated edges that state none of their own.", arg("WORD", VName)),
		clause("mask", "The colour of the solder mask.", arg("WORD", VName)),
		clause("legend", "The colour of the printed legend.", arg("WORD", VName)),
		clause("impedance", "Whether impedance is controlled: none, or a text that says of which lines and how exactly.", textOr("none")),
	}},
	{Word: "stack", Sum: "The layers of the board, top first.", Example: "stack {\n  copper     top    35 um\n  dielectric core   1.5 mm permittivity 4.3\n  copper     bottom 35 um\n}", Clauses: []*Spec{
		clause("copper", "A copper layer and its finished thickness.", newName, length("T")).required().repeat().with(
			clause("base", "Thickness of the foil that it is made from.", length("T"))),
		clause("dielectric", "An insulating layer and its thickness.", newName, length("T")).repeat().with(
			clause("permittivity", "Relative permittivity, 1 or more.", number("N")),
			clause("loss", "Loss tangent.", number("N")),
			clause("material", "Its laminate, where it is not the board's.", arg("TEXT", VText))),
	}},
	{Word: "outline", Sum: "The board's profile, with exact arcs; its pieces are edges with names.", Example: "outline rectangle 62 mm by 38 mm corner 1.5 mm",
		Clauses: shapeClauses(), OneOf: [][]string{{"rectangle", "circle", "start"}}},
	{Word: "cutout", Args: []Arg{newName}, Repeat: true, Sum: "An opening in the board; its edges are NAME.south and so on, the one edge of a circle or slot NAME.rim.",
		Example: "cutout window slot 6 mm by 1.5 mm at (20 mm, 10 mm)",
		Clauses: append(shapeClauses(),
			clause("slot", "A slot with round ends, L long over all and W wide.", length("L")).with(
				clause("by", "Width of the slot.", length("W")).required()),
			clause("turned", "Of a slot: the angle of its long axis from x, counterclockwise.", Arg{Name: "A", Kind: VQuantity, Dim: quantity.Angle}),
			clause("at", "The centre of a rectangle, circle or slot; several are a row.", many(arg("POINT", VPoint)))),
		OneOf: [][]string{{"rectangle", "circle", "slot", "start"}}},
	{Word: "hole", Args: []Arg{newName}, Repeat: true, Sum: "A drilled hole: for mounting, or to hold the board while it is made.", Example: "hole mount diameter 3.2 mm at (4 mm, 4 mm) plated net GND land 6 mm", Clauses: []*Spec{
		clause("diameter", "Finished diameter.", length("D")).required(),
		clause("at", "Its centre; several are a row.", many(arg("POINT", VPoint))).required(),
		clause("plated", "Its wall is plated."),
		clause("unplated", "Its wall is not plated."),
		clause("net", "Its net, where it is plated; of a row one for all, or one for each.", many(arg("N", VName))),
		clause("land", "Diameter of the copper land round it, on both faces.", length("D")),
	}, OneOf: [][]string{{"plated", "unplated"}}},
	{Word: "plating", Args: []Arg{newName}, Repeat: true, Sum: "A plated edge: where, how far it turns over each face, what it joins.",
		Example: "plating wall {\n  along  south east\n  net    GND\n  copper 25 um\n  wrap   top bottom 0.8 mm\n  extend 0.05 mm\n}", Clauses: []*Spec{
			clause("along", "The edges that are plated, or `all` of the outline's; with from and to, a stretch of the edge.", many(arg("EDGE", VEdge, All))).required().repeat().with(fromTo()),
			clause("net", "The net that the wall belongs to.", arg("N", VName)).required(),
			clause("wrap", "How far the copper turns over the faces, from the profile inward.", many(arg("FACE", VFace)), length("W")).repeat(),
			clause("copper", "Thickness of the copper on the wall, on average.", length("T")).with(
				clause("least", "How thick it is at its thinnest spot; without it the class says.", length("T"))),
			clause("extend", "How far artwork copper is drawn past the profile, so that it is seen to be meant.", length("E")),
			clause("layers", "The layers the wall joins, or `all`; by default every layer with a plane of its net.", many(arg("L", VLayer, All))),
			clause("finish", "The finish on the wall, as the fabricator names it.", arg("WORD", VName)).with(
				clause("thickness", "How thick each of its metals is, from the copper outward.", many(length("T")))),
		}},
	{Word: "gap", Args: []Arg{newName}, Repeat: true, Sum: "Where a plating is interrupted.", Example: "gap launch of wall on west at middle width 5 mm for antenna",
		Clauses: append([]*Spec{clause("of", "The plating that is interrupted.", arg("PLATING", VRef, "plating")).required()}, append(stretchClauses("the gap"),
			clause("for", "The connector or the tab that the gap makes room for.", arg("NAME", VRef, "connector", "tab")),
			clause("bridged", "The metal of the connector that the gap is `for` bridges the opening, as far as its body stands over it."))...),
		OneOf: [][]string{{"at", "from"}}},
	{Word: "connector", Args: []Arg{newName}, Repeat: true, Sum: "A part that launches over the edge; the gap before its pin is checked.",
		Example: "connector antenna on west at middle {\n  body 9.5 mm\n  pin  top width 1.3 mm length 4 mm\n}", Clauses: []*Spec{
			clause("on", "The edge it sits on.", arg("EDGE", VEdge)).required(),
			clause("at", "Its middle, along the edge; several positions are a row.", many(arg("P", VPosition))).required(),
			clause("body", "Width of its body along the edge.", length("W")).required().with(
				clause("reach", "How far the body's metal stands over the board, inward from the profile.", length("D")),
				clause("overhang", "How far the body stands out past the profile.", length("D"))),
			clause("pin", "Its signal pin: the face, and the pad's width along the edge and length inward.", arg("FACE", VFace)).repeat().with(
				clause("width", "The pin's width along the edge.", length("W")).required(),
				clause("length", "The pin's length, inward from the profile.", length("L")).required()),
			clause("legs", "Its two ground legs on each face, of the net of the plating that they stand on.", many(arg("FACE", VFace))).with(
				clause("width", "A leg's width along the edge.", length("W")).required(),
				clause("length", "A leg's length, inward from the profile.", length("L")).required(),
				clause("spacing", "From the middle of one leg to the middle of the other, along the edge.", length("S")).required()),
			clause("clearance", "Clearance from pin to plating, if larger than the fabricator's.", length("C")),
			clause("mass", "Its mass, at its body's middle, for what the tabs carry.", Arg{Name: "M", Kind: VQuantity, Dim: quantity.Mass}),
			clause("net", "The net of its pin; of a row one for all, or one for each.", many(arg("N", VName))),
			openable("its widest pin", clause("bridged", "Its metal bridges the opening, as far as its body stands over it.")),
		}},
	{Word: "relief", Args: []Arg{newName}, Repeat: true, Sum: "Solder mask taken off along a plated edge or a row of half holes.", Example: "relief lid over wall on top bottom reach 0.9 mm", Clauses: []*Spec{
		clause("over", "The platings and castellations that are laid bare.", many(arg("NAME", VRef, "plating", "castellation"))).required(),
		clause("on", "The faces.", many(arg("FACE", VFace))).required(),
		clause("along", "Only there: the edges, or `all` of the outline's; with from and to, a stretch of the edge.", many(arg("EDGE", VEdge, All))).repeat().with(fromTo()),
		clause("reach", "How far the opening goes inward from the profile; without it as far as the wrap or the land, and the margin more.", length("R")),
		clause("margin", "How far the opening goes past the copper's ends; without it the shop's `mask_margin`.", length("M")),
	}},
	{Word: "tab", Args: []Arg{newName}, Repeat: true, Sum: "What holds the board in its panel.", Example: "tab t1 on south at 15 mm width 4 mm perforated hole 0.5 mm pitch 0.8 mm", Clauses: []*Spec{
		clause("on", "The edge it stands on.", arg("EDGE", VEdge)).required(),
		clause("at", "Its middle, along the edge; several positions are a row.", many(arg("P", VPosition))).required(),
		clause("width", "Width of its root, along the edge, on the profile. The round ends of the slots narrow it by the bit's diameter halfway along a slot as wide as the bit: `report` states that waist.", length("W")).required(),
		clause("solid", "It has no row of holes; it is routed off."),
		clause("perforated", "It is snapped off along a row of small holes.").with(
			clause("hole", "Diameter of the holes.", length("D")).required(),
			clause("pitch", "From hole to hole.", length("P")).required(),
			clause("inset", "How far inside the profile the row lies; 0 is on it.", length("I"))),
		clause("premetallised", "The copper of both faces runs on over the tab into the frame. There is no wall under it: the tab's root is bare once it is cut, an opening like any other."),
		clause("length", "From the profile to the panel's frame.", length("L")),
		openable("the tab"),
		clause("removal", "How it is taken off: rout, or hand.", arg("WORD", VWord, "rout", "hand")).with(
			clause("by", "Who takes it off.", arg("WHO", VWord, "shop", "assembler", "customer")),
			clause("within", "How much may stand out past the profile or be missing.", length("E"))),
	}, OneOf: [][]string{{"solid", "perforated"}}},
	{Word: "castellation", Args: []Arg{newName}, Repeat: true, Sum: "Plated half holes on an edge, to solder the board on.", Example: "castellation left on west from 4 mm to 20 mm pitch 2 mm hole 1 mm land 1.8 mm by 1.6 mm net GND", Clauses: []*Spec{
		clause("on", "The edge they are on.", arg("EDGE", VEdge)).required(),
		clause("from", "The first hole's centre.", arg("A", VPosition)).with(
			clause("to", "The last hole's centre, or the end of the row.", arg("B", VPosition)).required()),
		clause("at", "The centre of each hole that stands by itself.", many(arg("P", VPosition))),
		clause("pitch", "From hole to hole. A row all round a rim keeps it too: from the last hole to the first it is what remains, which rules measure.", length("P")),
		clause("hole", "Finished diameter of the hole.", length("D")).required(),
		clause("land", "The copper land: W along the edge, L inward.", length("W")).required().with(
			clause("by", "Inward length of the land.", length("L")).required()),
		clause("layers", "The copper layers on which the holes have lands; by default top and bottom.", many(arg("L", VLayer))),
		clause("except", "Leaves out the holes whose centres lie in a part of the edge, its ends included.").repeat().with(
			clause("from", "Where the part starts.", arg("A", VPosition)).required().with(
				clause("to", "Where it ends.", arg("B", VPosition)).required())),
		clause("net", "One net for all, or a net for each hole that stands, in turn.", many(arg("N", VName))),
		clause("finish", "The finish of the half holes, where it is not the board's.", arg("WORD", VName)),
		clause("burrs", "The face on which burrs of the cut may stand: top, bottom, or either.", arg("WORD", VWord, Top, Bottom, "either")),
	}, OneOf: [][]string{{"at", "from"}}},
	{Word: "plane", Repeat: true, Sum: "A copper area that follows the profile at a distance.", Example: "plane on ground net GND pullback 0.5 mm", Clauses: []*Spec{
		clause("on", "The copper layers: a plane on each, that goes by its layer's name; where a layer has several, with a number as `top.1`, in the order of the text.", many(arg("LAYER", VLayer))).required(),
		clause("net", "Its net.", arg("N", VName)),
		clause("pullback", "How far it keeps from the profile.", length("P")).required(),
		clause("within", "Only inside a rectangle, its sides along x and y: one of its corners.", arg("POINT", VPoint)).with(
			clause("to", "The opposite corner.", arg("POINT", VPoint)).required()),
	}},
	{Word: "feature", Args: []Arg{newName}, Repeat: true, Sum: "Other copper near the edge.", Example: "feature c7 on top rectangle 0.8 mm by 0.9 mm at (5 mm, 3 mm) net V5", Clauses: []*Spec{
		clause("on", "The copper layer.", arg("LAYER", VLayer)).required(),
		clause("rectangle", "A rectangle, W along x and H along y.", length("W")).with(
			clause("by", "Height, along y.", length("H")).required()),
		clause("circle", "A circle of diameter D.", length("D")),
		clause("at", "Its centre; several are a row.", many(arg("POINT", VPoint))).required(),
		clause("net", "Its net.", arg("N", VName)),
	}, OneOf: [][]string{{"rectangle", "circle"}}},
	{Word: "fence", Args: []Arg{newName}, Repeat: true, Sum: "A row of stitching vias along an edge.", Example: "fence stitch along south inset 1.5 mm pitch 2 mm hole 0.3 mm net GND", Clauses: []*Spec{
		clause("along", "The edges it follows, or `all` of the outline's; with from and to, a stretch of the edge.", many(arg("EDGE", VEdge, All))).required().repeat().with(fromTo()),
		clause("inset", "From the profile to the vias' centres.", length("I")).required(),
		clause("pitch", "From via to via, centre to centre, also along an arc. All round a rim the vias stand evenly, at most that far apart.", length("P")).required(),
		clause("hole", "Diameter of the vias' holes.", length("D")).required(),
		clause("land", "Diameter of the pads round the holes.", length("D")),
		clause("clearance", "Leaves out the vias whose pads or holes would come nearer than that to what they may not meet: other nets' features, holes' lands, walls and wraps; pins, legs and half holes' lands; holes, half holes, perforations, cutouts, and vias, of two the earlier one in the text.", length("C")),
		clause("added", "The vias are not in the artwork yet: the layer files have their holes and pads."),
		clause("net", "Their net.", arg("N", VName)),
	}},
	{Word: "part", Args: []Arg{newName}, Repeat: true, Sum: "A part whose weight the tabs carry beside the bare board's.", Example: "part shield mass 4 g at (12 mm, 9 mm)", Clauses: []*Spec{
		clause("mass", "Its mass.", Arg{Name: "M", Kind: VQuantity, Dim: quantity.Mass}).required(),
		clause("at", "Its centre of mass; several are a row.", many(arg("POINT", VPoint))).required(),
	}},
	{Word: typical, Args: []Arg{newName}, Repeat: true, Sum: "What many items of one kind have in common; they take it over by `like`. It is no item itself, and what its kind requires may be missing.", // its clauses: addRepetition
		Example: "typical scar tab { solid; width 3 mm; length 2 mm }"},
	{Word: "tolerance", Repeat: true, Sum: "How exact the finished board must be, either way. A clause of the file itself stands before a used file's.", Example: "tolerance {\n  outline 0.13 mm\n  thickness 10 %\n}", Clauses: []*Spec{
		clause("outline", "Of the outline.", length("E")),
		clause("thickness", "Of the finished thickness, as a length or in %.", Arg{Name: "E", Kind: VQuantity, Dim: quantity.Length, Share: true}),
		clause("gaps", "Of each end of a plated stretch, along the edge.", length("E")),
		clause("cutouts", "Of cutouts.", length("E")),
		clause("holes", "Of the diameter of holes.", length("E")),
		clause("half_holes", "Of the diameter of half holes.", length("E")),
		clause("position", "Of where holes, half holes and cutouts are.", length("E")),
		clause("mask", "Of the solder mask's openings.", length("E")),
	}},
	{Word: "criteria", Repeat: true, Sum: "What plated edges are accepted by. A clause of the file itself stands before a used file's.", Example: "criteria {\n  voids maximum 1.5 mm\n  blisters none\n  adhesion \"tape test, one board of each batch\"\n}", Clauses: []*Spec{
		noneOrMost("voids", "Voids in the plated copper: none, or the longest."),
		noneOrMost("blisters", "Blisters of the plated copper: none, or the longest."),
		noneOrMost("burrs", "Burrs and nodules: none, or the highest."),
		clause("adhesion", "How the adhesion of the wall is tested.", arg("TEXT", VText)),
		clause("continuity", "The limit of the wall's resistance from end to end of its longest stretch.").with(
			clause("maximum", "The most.", Arg{Name: "R", Kind: VQuantity, Dim: quantity.Resistance}).required()),
		clause("microsection", "Which sections are made and kept.", arg("TEXT", VText)),
		clause("coupon", "Whether a strip of the plated edge is made beside the boards to be tested: none or required.", arg("WORD", VWord, "none", "required")),
		clause("electrical_test", "Which boards are tested electrically: none, all, or a text.", textOr("none", "all")),
		clause("bow", "Bow and twist, as a share of the length.").with(
			clause("maximum", "The most, in %.", number("P")).required()),
		clause("sample", "How many boards are measured.", arg("TEXT", VText)),
	}},
	{Word: "delivery", Sum: "How boards are handed over.", Example: `delivery panel "production.hem"`, Clauses: []*Spec{
		clause("single", "One by one, cut apart."),
		clause("panel", "In their panels: the panels' files, of which nothing is brought in.", many(arg("FILE", VText))),
	}, OneOf: [][]string{{"single", "panel"}}},
	{Word: "marking", Args: []Arg{textOr("none")}, Repeat: true, Sum: "A maker's mark or a date code, and where it may stand: never on a wall, a wrap or a land. none: the shop adds no mark.", Example: `marking "date code" on bottom at (20 mm, 15 mm)`, Clauses: []*Spec{
		clause("on", "The face.", arg("FACE", VFace)),
		clause("at", "Its centre.", arg("POINT", VPoint)),
	}},
	{Word: "leave", Args: []Arg{many(arg("QUERY", VWord, Queries...))}, Repeat: true, Example: `leave tab_places along west east to shop because "its usual frame"`,
		Sum: "Leaves what a shop would ask for the shop to decide, with the reason; the words are the queries' names (lang/emit/QUERIES.md).", Clauses: []*Spec{
			clause("along", "Only there, or along `all` of the outline's edges; without it, on the whole board.", many(arg("EDGE", VEdge, All))).repeat(),
			clause("to", "Who decides.", arg("WHO", VWord, "shop")).required(),
			clause("because", "Why it is left.", arg("TEXT", VText)).required(),
		}},
	{Word: "fabricator", Args: []Arg{newName}, Repeat: true, Sum: "What a shop can build.", Example: "fabricator standard {\n  offers edge_plating half_holes\n  limit wrap_land minimum 0.4 mm because \"peel\" source \"design guide 4.2\"\n}", Clauses: []*Spec{
		clause("offers", "What it can make beside plain boards.", many(arg("WORD", VWord, Offers...))).repeat(),
		clause("finishes", "The finishes it puts on plated edges.", many(arg("WORD", VName))).repeat(),
		clause("limit", "The least or the most it holds for a parameter.", arg("PARAMETER", VParameter)).repeat().with(
			clause("minimum", "The least.", arg("V", VExpr)),
			clause("maximum", "The most.", arg("V", VExpr)),
			clause("because", "Why.", arg("TEXT", VText)),
			clause("source", "Where the value is written.", arg("TEXT", VText))),
		clause("version", "Which version of the shop's rules this is.", arg("TEXT", VText)),
		clause("checked", "The day on which they were last looked at; it is shown and never judged.", arg("DATE", VDate)),
		clause("until", "The last day on which they hold; past it they are a finding.", arg("DATE", VDate)),
	}},
	{Word: "accept", Args: []Arg{arg("RULE", VRule)}, Repeat: true, Sum: "A finding that is agreed, with its reason; past its date it is a finding itself.", Example: `accept plated_share on wall because "agreed with the shop" until "2027-06-30"`, Clauses: []*Spec{
		clause("on", "What the finding is on; with several names, on each of them alone.", many(arg("NAME", VItem))).required(),
		clause("with", "The other party of a finding between two: it accepts those between this one and each one named by on.", arg("NAME", VItem)),
		clause("because", "Why it is accepted.", arg("TEXT", VText)).required(),
		clause("until", "The last day it holds.", arg("DATE", VDate)),
	}},
	{Word: "note", Args: []Arg{arg("TEXT", VText)}, Repeat: true, Sum: "A line for the fabrication notes, for people; nothing is ever worked out from it.", Example: `note "keep the lid's land flat"`},
}

// renamed are clauses of earlier texts, and the words that took their place.
var renamed = map[string]string{"routed": "solid", "closed": "bridged"}

// Renamed is the word that took a clause's place, "" for a clause that has not changed.
func Renamed(clause string) string { return renamed[clause] }

// Vocabulary lists every statement in the order of the reference (lang/REFERENCE.md).
// The table is shared; it must not be changed.
func Vocabulary() []*Spec { return vocabulary }

// StatementNamed finds a statement by its keyword.
func StatementNamed(word string) *Spec { return statements[word] }

var (
	statements = map[string]*Spec{}
	// keywords are the words of statements and clauses; where a name is due they are names.
	keywords = map[string]bool{}
)

func init() {
	addRepetition()
	var reserve func(s *Spec)
	reserve = func(s *Spec) {
		keywords[s.Word] = true
		for _, c := range s.Clauses {
			reserve(c)
		}
	}
	for i, s := range vocabulary {
		s.Order = i
		statements[s.Word] = s
		reserve(s)
	}
}

// takesKeywords tells whether words that the statement or clause takes are keywords elsewhere.
func (s *Spec) takesKeywords() bool {
	return len(s.Args) == 1 && s.Args[0].Kind == VWord && slices.ContainsFunc(s.Args[0].Words, IsKeyword)
}

// Keywords lists the words of statements and clauses, sorted.
func Keywords() []string {
	list := make([]string, 0, len(keywords))
	for k := range keywords {
		list = append(list, k)
	}
	slices.Sort(list)
	return list
}

// IsKeyword tells whether a word is a statement's or a clause's.
func IsKeyword(word string) bool { return keywords[word] }
