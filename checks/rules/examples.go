package rules

import "strings"

// The rules' examples are whole texts. These helpers write the part that is
// the same in all of them: a small board that nothing is wrong with.

const exampleHead = `board example { thickness 1.6 mm }
outline rectangle 50 mm by 30 mm corner 1 mm
`

const squareHead = `board example { thickness 1.6 mm }
outline rectangle 50 mm by 30 mm
`

const exampleTabs = `tab t1 on south at 10 mm width 3 mm solid
tab t2 on south at 40 mm width 3 mm solid
tab t3 on north at middle width 3 mm solid
tab t5 on north at 44 mm width 3 mm solid
tab t6 on north at 6 mm width 3 mm solid
`

// plated is a board whose west and east edges are plated, the plating's wraps
// as given, held by tabs on the other two.
func plated(wraps ...string) string {
	return exampleHead + `plating wall {
  along west east
  net GND
  copper 25 um
  extend 0.1 mm
  ` + strings.Join(wraps, "\n  ") + `
}
` + exampleTabs
}

// wholeWraps are wraps that nothing is wrong with.
var wholeWraps = []string{"wrap top 0.8 mm", "wrap bottom 0.8 mm"}

// platedWith is the plated board with more statements.
func platedWith(statements ...string) string {
	return plated(wholeWraps...) + strings.Join(statements, "\n") + "\n"
}

// layered gives a sample board a stack with two inner layers in the place of
// its thickness.
func layered(board string) string {
	return `stack {
  copper top 35 um
  dielectric upper 0.3 mm
  copper ground 17 um
  dielectric core 0.9 mm
  copper power 17 um
  dielectric lower 0.3 mm
  copper bottom 35 um
}
` + strings.Replace(board, " { thickness 1.6 mm }", "", 1)
}

const exampleConnector = `connector antenna on west at middle {
  body 9.5 mm
  pin top width 1.3 mm length 4 mm
}`

// otherWall is a plating of another net on a stretch of the east edge.
func otherWall(stretch string) string {
	return "plating supply {\n  along east " + stretch + "\n  net V5\n  copper 25 um\n  extend 0.1 mm\n  wrap top 0.8 mm\n  wrap bottom 0.8 mm\n}"
}

// secondWall is a plating of the wall's net on a part of the east edge.
func secondWall(to, copper string) string {
	return "plating second {\n  along east from 0 mm to " + to + "\n  net GND\n  copper " + copper + "\n  extend 0.1 mm\n  wrap top 0.8 mm\n  wrap bottom 0.8 mm\n}"
}

// slit is a slot so wide, plated on one side with copper drawn so far past the profile.
func slit(wide, extend string) []string {
	return []string{"cutout slit rectangle 10 mm by " + wide + " corner 0.1 mm at (25 mm, 15 mm)",
		"plating inside {\n  along slit.south\n  net GND\n  copper 25 um\n  extend " + extend + "\n  wrap top 0.8 mm\n  wrap bottom 0.8 mm\n}",
		"fabricator house { limit slot_width minimum 0.1 mm; limit plated_slot_width minimum 0.1 mm; limit router_bit minimum 0.1 mm }"}
}

// slitHalved is a slot so wide with a half hole on one side, and a relief over it.
func slitHalved(wide string) []string {
	return []string{"cutout slit rectangle 10 mm by " + wide + " corner 0.1 mm at (25 mm, 15 mm)",
		"castellation half on slit.south at middle hole 0.6 mm land 1 mm by 0.6 mm",
		"relief lid over half on top bottom reach 0.7 mm",
		"fabricator house { limit slot_width minimum 0.1 mm; limit plated_slot_width minimum 0.1 mm; limit router_bit minimum 0.1 mm }"}
}

// tongue is two slots that leave a strip of board so wide between them, plated
// on both sides.
func tongue(wide string) string {
	return "cutout upper rectangle 10 mm by 4 mm corner 1 mm at (25 mm, 17 mm + " + wide + ")\ncutout lower rectangle 10 mm by 4 mm corner 1 mm at (25 mm, 13 mm)\n" +
		"plating inside {\n  along upper.south from 2 mm to 8 mm\n  along lower.north from 2 mm to 8 mm\n  net GND\n  copper 25 um\n  extend 0.1 mm\n  wrap top 0.8 mm\n  wrap bottom 0.8 mm\n}"
}

// nearJack is a tab beside a connector whose middle is at a position.
func nearJack(at string) string {
	return platedWith("connector jack on west at "+at+" { body 10 mm }", "gap launch of wall on west at "+at+" width 5 mm for jack",
		"tab t4 on west at 6 mm width 3 mm solid premetallised")
}

// shop is a fabricator that says something.
func shop(says ...string) string {
	return "fabricator shop {\n  " + strings.Join(says, "\n  ") + "\n}\n"
}

// endless is a board plated all round, but for what the statements say.
func endless(statements string) string {
	board := strings.Replace(plated(wholeWraps...), "along west east", "along all", 1)
	return strings.TrimSuffix(board, exampleTabs) + "leave tab_places to shop because \"its usual frame\"\n" + statements
}

// shared is a board plated all round but for a gap of one width at each tab.
func shared(width string) string {
	return strings.Replace(plated(wholeWraps...), "along west east", "along all", 1) +
		"gap g1 of wall on south at 10 mm width " + width + "\ngap g2 of wall on south at 40 mm width " + width + "\ngap g3 of wall on north at middle width " + width + "\n" +
		"gap g5 of wall on north at 44 mm width " + width + "\ngap g6 of wall on north at 6 mm width " + width + "\n"
}

// radio is a plated board with a permittivity that states a frequency, and
// perhaps more, and has more statements.
func radio(frequency string, statements ...string) string {
	board := strings.Replace(platedWith(statements...), "{ thickness 1.6 mm }", "{ frequency "+frequency+" }", 1)
	return "stack { copper top 35 um; dielectric core 1.53 mm permittivity 4.3; copper bottom 35 um }\n" + board
}

// radio2 is a plated board that says more of itself.
func radio2(says string) string {
	return strings.Replace(plated(wholeWraps...), "{ thickness 1.6 mm", "{ thickness 1.6 mm; "+says, 1)
}

// cavity is a board between two planes, plated on its longer sides.
func cavity(frequency string) string {
	return radio(frequency, "plane on top net GND pullback 0.5 mm", "plane on bottom net GND pullback 0.5 mm")
}
