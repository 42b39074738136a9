package layers

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/emit/bundle"
)

// wide is how many letters a line of the readme has at most.
const wide = 79

// lying says where the files' coordinates count from, and what is known of how they
// lie to the artwork.
func (m *maker) lying() string {
	text := "\nWhere the files lie\n\n" + fmt.Sprintf("(0, 0) of every file is the point %s of the board's text.\n", point(m.o.Origin)) +
		wrapped("x grows east and y north, all seen from the top, the bottom's files too; nothing is mirrored. Lengths are in mm. *.gbr are Gerber X2 files (format 4.6, regions, exact arcs), *.xnc numerical control files (XNC: metric, decimal points, finished diameters).", wide) + "\n\n"
	carry := "They carry .SameCoordinates," + m.same() + "\n"
	if m.coupon() {
		return text + carry + "which no other files have: they lie as each other.\n"
	}
	if m.o.Same != "" {
		return text + carry + wrapped("which was stated as what the artwork's files carry: they lie on those as they are. It was not held against the artwork; step 1 does that.", wide) + "\n"
	}
	return text + carry + wrapped("which no other files have: they lie as each other, and nothing says yet how the artwork lies to them. Step 1 tells; with the artwork's point (0, 0) and its ident they can be made anew, so that they lie as it does (--origin, --same).", wide) + "\n"
}

// steps says how each of the files is put into the artwork, in order.
func (m *maker) steps(files []bundle.File) string {
	has := func(some ...string) bool {
		return slices.ContainsFunc(files, func(f bundle.File) bool {
			return slices.ContainsFunc(some, func(x string) bool { return strings.Contains(f.Name, x) })
		})
	}
	says, heading := ofArtwork, "How they are put into the artwork"
	if m.coupon() { // it has no artwork but these files
		says, heading = ofCoupon, "How the coupon is made of them"
	}
	list := []string{says.profile}
	if has("_free.gbr", "_add.gbr") {
		list = append(list, says.copper)
	}
	if has("mask_") {
		list = append(list, "mask_*_open.gbr: solder mask is open where these are, and "+says.mask+" What lies past the profile is there so that no mask is left on the wall.")
	}
	if has("drill_") {
		list = append(list, m.drilling(has("drill_plated"), has("drill_unplated")))
	}
	if has("rout_") {
		list = append(list, m.routing(has("rout_plated"), has("rout_final"), has("rout_tabs")))
	}
	list = append(list, "The panel and what the etching takes are the shop's; neither is in these files. What is unclear is a question, not a choice.")
	return numbered("\n"+heading+", in this order\n\n", list)
}

// said is what the readme says of the files of a board, or of a coupon.
type said struct{ profile, copper, mask string }

var (
	ofArtwork = said{
		profile: "profile.gbr: hold the artwork's profile to it. Both are the same contour at the same place, or one of them is wrong: ask. It is the outline alone; cutouts are in the rout files.",
		copper:  `Each copper layer, from the artwork's own file: first take away what "free" covers, then lay on what "add" covers. Neither is a whole layer. What is added wins over what is kept free, and that over the artwork, but for what is said of it below; "add" and "free" of a layer share no area. Where copper to add would meet artwork of another net, nothing wins: ask. Copper past the profile goes with the rout.`,
		mask:    "where the artwork opens it; they close nothing. An opening wins over mask.",
	}
	ofCoupon = said{
		profile: "These files are all that there is of the coupon: it has no artwork of its own. profile.gbr is its outline; it goes into the panel beside the boards.",
		copper:  `Each copper layer is what "add" covers, and nothing else; what "free" covers is shown to tell that it stays bare. A layer without a file to add has no copper on the coupon. Copper past the profile goes with the rout.`,
		mask:    "closed elsewhere.",
	}
)

func (m *maker) coupon() bool { return m.o.Part == Coupon }

// numbered is a list of steps under its heading.
func numbered(text string, list []string) string {
	for n, s := range list {
		lead := fmt.Sprintf("%d. ", n+1)
		text += lead + strings.ReplaceAll(wrapped(s, wide-len(lead)), "\n", "\n"+strings.Repeat(" ", len(lead))) + "\n"
	}
	return text
}

// drilling says what becomes of the drills.
func (m *maker) drilling(plated, unplated bool) string {
	s := "Drills, beside the artwork's own:"
	if m.coupon() {
		s = "Drills:"
	}
	if plated {
		s += " drill_plated.xnc is drilled before plating"
		if len(m.b.Castellations()) > 0 {
			s += ", half holes whole"
		}
	}
	if plated && unplated {
		s += ";"
	}
	if unplated {
		s += " drill_unplated.xnc after it"
	}
	if s += "."; m.coupon() {
		return s
	}
	s += " A hole that the artwork's drills have too is drilled once, to the diameter given here."
	if len(m.added()) > 0 {
		s += " Added via fences are in these files alone, holes and pads: the artwork has neither."
	}
	return s
}

// routing says what becomes of the routs.
func (m *maker) routing(plated, final, tabs bool) string {
	s := "Routs, in place of the artwork's along the profile and the cutouts:"
	if m.coupon() {
		s = "Routs:"
	}
	if plated {
		s += " rout_plated.xnc is cut before plating, with the plated drills"
	}
	if plated && final {
		s += ";"
	}
	if final {
		s += " rout_final.xnc after it"
		if len(m.b.Castellations()) > 0 {
			s += ", and opens the half holes"
		}
		if len(m.b.Tabs()) > 0 {
			s += "; tabs are left standing"
		}
	}
	if tabs {
		if plated || final {
			s += ";"
		}
		s += " rout_tabs.xnc last of all, over the tabs that are routed off"
	}
	return s + "."
}

// forWhom is whom a file is for.
func forWhom(name string) string {
	switch {
	case strings.HasPrefix(name, "drill_"):
		return "the drilling machine's program"
	case strings.HasPrefix(name, "rout_"):
		return "the routing machine's program"
	}
	return "whoever puts the shop's artwork together"
}
