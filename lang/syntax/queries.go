package syntax

// Queries are the words that `leave` takes: the names of the questions that a
// shop would ask, in the order in which lang/emit/queries, which holds what each
// of them is, has them. A test there holds the two together.
var Queries = []string{
	"outline", "outline_tolerance", "thickness", "thickness_tolerance", "material", "layers", "class", "revision", "delivery", "marking", "impedance_control", "electrical_test", "bow",
	"plated_stretches", "bare_stretches", "stretch_tolerance", "wrap_width", "artwork_past_profile", "copper_at_profile", "wall_net", "net_boundary", "joined_layers", "layer_pullback",
	"wall_copper", "wall_copper_thinnest", "edge_finish", "finish_thickness", "mask_opening", "order_of_routs",
	"edge_voids", "blisters", "burrs", "adhesion", "continuity_limit", "continuity_sample", "coupon", "top_frequency", "hazard", "voltage",
	"tab_places", "tab_length", "tab_edge", "tab_root", "tab_removal", "tab_residue", "perforation_row", "perforation_plating", "separation",
	"half_holes", "half_hole_pitch", "half_hole_land", "half_hole_tolerance", "half_hole_finish", "half_hole_burrs", "cutout_plating", "inside_corner", "fence_vias", "overhang",
}
