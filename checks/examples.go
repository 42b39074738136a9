package checks

import "strings"

// The rules' examples are whole texts. These helpers write the part that is
// the same in all of them: a small board that nothing is wrong with.

const exampleHead = `board sample { thickness 1.6 mm }
outline rectangle 60 mm by 40 mm
`

const exampleTabs = `tab t1 on south at 10 mm width 3 mm routed
tab t2 on south at 50 mm width 3 mm routed
tab t3 on north at middle width 3 mm routed
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
