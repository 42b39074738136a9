package syntax

import "slices"

// elsewhere are words that the trade uses for what has another name here: by the
// statement in which they stand, "" for those that begin one. A word without a
// successor is near others by its letters alone, and none of them is meant.
var elsewhere = map[string]map[string]string{
	"": {
		"drill": "hole", "bore": "hole", "pad": "feature", "pour": "plane", "layers": "stack", "stackup": "stack",
		"route": "cutout", "mill": "cutout", "opening": "cutout", "profile": "outline", "contour": "outline",
		"edge": "plating", "edge_plating": "plating", "half_holes": "castellation", "castellations": "castellation",
		"breakaway": "tab", "limits": "fabricator", "shop": "fabricator", "stitching": "fence",
		"notch": "outline", "chamfer": "outline", "datum": "outline", "weight": "part", "soldermask": "relief", "solder_mask": "relief", "mousebite": "tab", "via": "fence", "vias": "fence",
		"frame": "", "keepout": "", "panel": "", "rail": "", "score": "", "fiducial": "", "count": "", "text": "", "inside": "",
	},
	"plating":      {"edge": "along", "edges": "along", "on": "along", "thickness": "copper", "land": "wrap", "of": "", "width": "wrap"},
	"gap":          {"in": "of", "plating": "of", "routed": ""},
	"tab":          {"of": "", "routed": "solid", "drill": "", "holes": "perforated", "spacing": "pitch", "land": "", "scar": ""},
	"hole":         {"drill": "diameter", "size": "diameter", "pad": "land", "npth": "unplated", "pth": "plated"},
	"castellation": {"drill": "hole", "diameter": "hole", "pad": "land", "spacing": "pitch"},
	"fence":        {"drill": "hole", "diameter": "hole", "pad": "land", "spacing": "pitch", "offset": "inset"},
	"plane":        {"clearance": "pullback", "keepout": "pullback", "layer": "on", "rectangle": "within", "area": "within", "region": "within"},
	"feature":      {"layer": "on", "size": "", "position": "at"},
	"connector":    {"width": "body", "pad": "pin", "signal": "net"},
	"relief":       {"mask": "", "width": "reach", "expansion": "margin"},
	"stack":        {"prepreg": "dielectric", "core": "dielectric", "laminate": "dielectric", "layer": "copper", "thickness": "", "mask": ""},
	"board":        {"name": "title", "rev": "revision", "solder_mask": "mask", "silkscreen": "legend", "layers": ""},
	"outline":      {"radius": "corner", "diameter": "circle", "width": "rectangle"},
	"cutout":       {"radius": "corner", "diameter": "circle", "drill": "", "width": "", "size": ""},
	"fabricator":   {"minimum": "limit", "maximum": "limit", "offer": "offers", "finish": "finishes"},
}

// likelyWord is the word that was meant by one that is not known where it
// stands: what the trade calls so has that name here, else the nearest by its
// letters.
func likelyWord(holder, word string, known []string) (string, bool) {
	if now, ok := elsewhere[holder][word]; ok {
		return now, now != ""
	}
	return Nearest(word, known)
}

// Elsewhere lists the words that what the trade calls so has here, sorted; told is
// false for one that the trade is not known to use for anything.
func Elsewhere(word string) (list []string, told bool) {
	for _, of := range elsewhere {
		now, ok := of[word]
		told = told || ok
		if now != "" && !slices.Contains(list, now) {
			list = append(list, now)
		}
	}
	slices.Sort(list)
	return list, told
}
