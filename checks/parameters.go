package checks

import (
	"slices"

	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

// Parameter is a limit that a fabricator may set. Where no fabricator is in
// use, or it is silent, the built-in value holds as common practice.
type Parameter struct {
	Name  string
	Means string
	Dim   quantity.Dimension
	// Minimum and Maximum are the built-in values as the language writes them,
	// "" for a side on which the parameter sets no limit.
	Minimum, Maximum string
	// Varies says how the built-in value depends on the board where it does; Minimum
	// or Maximum is then the laxest.
	Varies string
	Source string
}

const (
	commonPractice = "common practice, no single source"
	ownJudgement   = "our own judgement, no source"
)

// parameters is the one table of limits.
var parameters = []Parameter{
	{Name: "wrap_land", Means: "least copper turned over each face, from the profile inward", Dim: quantity.Length, Minimum: "0.381 mm",
		Source: "15 mil, a fabricator's column on edge plating (trade magazine, March 2022, p. 56–58)"},
	{Name: "wrap_clearance", Means: "other copper on an outer layer to the wrap", Dim: quantity.Length, Minimum: "0.254 mm",
		Source: "10 mil, the trade's usual first figure; " + commonPractice},
	{Name: "inner_clearance", Means: "other nets' inner copper to a plated wall", Dim: quantity.Length, Minimum: "0.5 mm",
		Source: "0.25 to 0.8 mm in fabricators' published rules; " + commonPractice},
	{Name: "extension", Means: "artwork copper drawn past the profile on a plated stretch", Dim: quantity.Length, Minimum: "0.05 mm",
		Source: commonPractice + " (fabricators ask for up to 0.5 mm)"},
	{Name: "gap_width", Means: "unplated stretch between two plated ones", Dim: quantity.Length, Minimum: "2 mm",
		Source: "at least the final router bit, 1 to 3 mm; " + commonPractice},
	{Name: "span_length", Means: "one plated stretch", Dim: quantity.Length, Minimum: "2 mm", Source: ownJudgement + ": no shorter than the gaps beside it"},
	{Name: "plated_share", Means: "plated part of the outline", Dim: quantity.None, Maximum: "93.4 %",
		Source: "eight tabs of 3 mm on a board of 100 × 80 mm leave 93.3 % (computed), which is just allowed; " + commonPractice + "; never all of it, since the panel must hold the board while it is plated"},
	{Name: "board_thickness", Means: "finished board", Dim: quantity.Length, Minimum: "0.8 mm", Maximum: "3.2 mm",
		Source: "0.6 to 0.8 mm at the least, 3.2 to 5.1 mm at the most; " + commonPractice},
	{Name: "router_bit", Means: "smallest outline bit; an inside corner's radius is at least half of it", Dim: quantity.Length, Minimum: "0.8 mm",
		Source: "fabricators' published rout tables, 0.8 to 2.54 mm"},
	{Name: "slot_width", Means: "narrowest cutout, unplated", Dim: quantity.Length, Minimum: "1 mm", Source: "fabricators' capability tables, 0.8 to 2.54 mm"},
	{Name: "plated_slot_width", Means: "narrowest cutout, plated", Dim: quantity.Length, Minimum: "0.75 mm", Source: "fabricators' capability tables, 0.5 to 1.45 mm"},
	{Name: "neck", Means: "narrowest board left between two openings, or an opening and the outline", Dim: quantity.Length, Minimum: "1 mm", Source: ownJudgement},
	{Name: "edge_clearance_outer", Means: "outer copper to an unplated routed edge or hole", Dim: quantity.Length, Minimum: "0.25 mm", Source: "fabricators' design rules, 0.127 to 0.30 mm, 0.25 mm usual"},
	{Name: "edge_clearance_inner", Means: "inner copper to an unplated routed edge or hole, and copper of a wall's net to the wall where its layers leave that one out", Dim: quantity.Length, Minimum: "0.4 mm", Source: "fabricators' design rules, 0.38 to 0.50 mm"},
	{Name: "wall_copper", Means: "copper on the wall, on average; never less than the class asks: 20 µm (1, 2), 25 µm (3)", Dim: quantity.Length, Minimum: "20 um",
		Source: "IPC-6012, average copper of plated holes in class 2, which holds where an order names no class; from memory and as a fabricator cites it"},
	{Name: "launch_clearance", Means: "end of the plating to a connector's pin", Dim: quantity.Length, Minimum: "0.254 mm", Source: "10 mil; " + commonPractice},
	{Name: "tab_width_solid", Means: "width of a solid tab, which is routed off", Dim: quantity.Length, Minimum: "1.5 mm", Maximum: "3 mm", Source: commonPractice},
	{Name: "tab_width_perforated", Means: "width of a tab that is snapped off", Dim: quantity.Length, Minimum: "2.5 mm", Maximum: "5 mm",
		Source: commonPractice + "; a published test series of break-off tabs (2022)"},
	{Name: "tab_gap", Means: "each side of a tab to where plating starts, unless the tab is premetallised", Dim: quantity.Length, Minimum: "0.5 mm", Source: commonPractice},
	{Name: "tab_spacing", Means: "from tab to tab along the outline, middle to middle, on a board with plated edges", Dim: quantity.Length, Maximum: "76 mm", Varies: bySpacing(),
		Source: "plain boards: an industry mailing list, 1997, upper ends; plated edges: 50.8 mm, a fabricator's column on edge plating (trade magazine, March 2022), 25 and 40 mm on thinner boards " + commonPractice},
	{Name: "tab_count", Means: "tabs a board", Dim: quantity.None, Minimum: "3", Source: commonPractice + "; two tabs are a line to tip over"},
	{Name: "tab_corner", Means: "tab's side to the end of its edge", Dim: quantity.Length, Minimum: "3 mm", Source: commonPractice},
	{Name: "tab_connector", Means: "tab's side to a connector's body", Dim: quantity.Length, Minimum: "2.5 mm", Source: "100 mil target, an assembly column on tab positions"},
	{Name: "tab_snap_moment", Means: "moment to break one tab by hand", Dim: quantity.Moment, Maximum: "1000 Nmm", Source: ownJudgement + ": 50 N at a hand's grip 20 mm off"},
	{Name: "perforation_hole", Means: "diameter of a perforation's holes", Dim: quantity.Length, Minimum: "0.5 mm", Source: "0.38 to 0.7 mm in published tab rules"},
	{Name: "perforation_web", Means: "board left between a perforation's holes", Dim: quantity.Length, Minimum: "0.25 mm", Source: "published tab rules; " + commonPractice},
	{Name: "castellation_hole", Means: "diameter of a half hole", Dim: quantity.Length, Minimum: "0.6 mm", Source: "0.35 to 0.8 mm in fabricators' guides, 0.6 mm usual"},
	{Name: "castellation_spacing", Means: "edge to edge between half holes", Dim: quantity.Length, Minimum: "0.55 mm", Source: "0.4 to 0.6 mm in fabricators' guides"},
	{Name: "castellation_ring", Means: "ring of land round a half hole", Dim: quantity.Length, Minimum: "0.2 mm", Source: "0.15 to 0.30 mm in fabricators' guides"},
	{Name: "castellation_corner", Means: "half hole's edge to the end of the board edge", Dim: quantity.Length, Minimum: "1 mm", Source: "a fabricator's capability table"},
	{Name: "mask_margin", Means: "mask opening beyond the wrap", Dim: quantity.Length, Minimum: "0.075 mm", Source: "0.025 to 0.076 mm in fabricators' design rules"},
	{Name: "mask_web", Means: "mask left beside an opening", Dim: quantity.Length, Minimum: "0.1 mm", Source: "0.076 to 0.15 mm in fabricators' design rules"},
	{Name: "fence_inset", Means: "via edge to the profile or the wall", Dim: quantity.Length, Minimum: "0.5 mm", Source: ownJudgement + ": as of any hole, `hole_edge`"},
	{Name: "copper_clearance", Means: "copper of two nets on one layer, where no limit above speaks of the pair", Dim: quantity.Length, Minimum: "0.15 mm",
		Source: "about 6 mil; " + commonPractice},
	{Name: "hole_web", Means: "board left between two holes", Dim: quantity.Length, Minimum: "0.3 mm", Source: commonPractice},
	{Name: "hole_edge", Means: "board left between a hole and the profile", Dim: quantity.Length, Minimum: "0.5 mm", Source: commonPractice},
	{Name: "body_clearance", Means: "a connector's body to another's", Dim: quantity.Length, Minimum: "0.5 mm", Source: commonPractice},
	{Name: "tolerance_outline", Means: "finest tolerance of the outline", Dim: quantity.Length, Minimum: "0.1 mm", Source: "0.076 to 0.127 mm in fabricators' capability tables"},
	{Name: "tolerance_thickness", Means: "finest tolerance of the finished thickness, as its share", Dim: quantity.None, Minimum: "10 %", Source: commonPractice},
	{Name: "tolerance_gaps", Means: "finest tolerance of each end of a plated stretch", Dim: quantity.Length, Minimum: "0.2 mm", Source: commonPractice},
	{Name: "tolerance_cutouts", Means: "finest tolerance of cutouts", Dim: quantity.Length, Minimum: "0.1 mm", Source: "as of the outline"},
	{Name: "tolerance_holes", Means: "finest tolerance of holes' diameters", Dim: quantity.Length, Minimum: "0.076 mm", Source: "3 mil; " + commonPractice},
	{Name: "tolerance_half_holes", Means: "finest tolerance of half holes' diameters", Dim: quantity.Length, Minimum: "0.1 mm", Source: commonPractice},
	{Name: "tolerance_position", Means: "finest tolerance of where holes, half holes and cutouts are", Dim: quantity.Length, Minimum: "0.1 mm", Source: commonPractice},
	{Name: "tolerance_mask", Means: "finest tolerance of the solder mask's openings", Dim: quantity.Length, Minimum: "0.075 mm", Source: "0.05 to 0.076 mm of registration in fabricators' design rules; " + commonPractice},
	{Name: "opening_share", Means: "longest opening as a share of the wavelength in the board", Dim: quantity.None, Maximum: "5 %",
		Source: "a twentieth of the wavelength: H. W. Ott, Electromagnetic Compatibility Engineering, Wiley 2009, ch. 6 (from memory)"},
}

// renamed are limits of earlier texts, and the names that took their place.
var renamed = map[string]string{"tab_width_routed": "tab_width_solid", "castellation_land": "castellation_ring", "aperture": "opening_share"}

// Parameters lists the table in the order of the references (checks/RULES.md).
func Parameters() []Parameter { return slices.Clone(parameters) }

// ParameterNamed finds a limit by its name.
func ParameterNamed(name string) (*Parameter, bool) {
	i := slices.IndexFunc(parameters, func(p Parameter) bool { return p.Name == name })
	if i < 0 {
		return nil, false
	}
	return &parameters[i], true
}

func parameterNames() []string {
	names := make([]string, len(parameters))
	for i, p := range parameters {
		names[i] = p.Name
	}
	return names
}

// builtIn reads a built-in value; the table is tested to hold only good ones.
func builtIn(text string) quantity.Quantity {
	q, _ := syntax.Quantity(text)
	return q
}
