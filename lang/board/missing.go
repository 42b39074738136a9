package board

import (
	"fmt"
	"strings"

	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// missing is a name that nothing has. What is said of it depends on what else
// there is, so it is worded for each board anew and never taken over.
type missing struct {
	at   source.Place
	of   names
	name string
}

// names is a list that a name may come from.
type names int

const (
	valueNames names = iota
	edgeNames
	layerNames
	platingNames
	connectorNames
	reliefNames
)

var namesTitles = [...]string{"value", "edge", "copper layer", "plating", "connector", "plating or castellation"}

// unknown reports a name that nothing has.
func (m *meaning) unknown(at source.Place, of names, name string) {
	m.missing = append(m.missing, missing{at, of, name})
}

// list is what a name may be.
func (out *Built) list(of names) *syntax.Known {
	switch of {
	case valueNames:
		return out.env.values()
	case edgeNames:
		return out.env.geo.names()
	case layerNames:
		if stack := out.env.stack(); stack != nil {
			return syntax.NewKnown(stack.copper())
		}
		return syntax.NewKnown(faceNames[:])
	case platingNames:
		return out.given(platings)
	case connectorNames:
		return out.given(connectors)
	}
	return out.given(platings, castellations)
}

// given lists the names that statements give, those without a meaning too.
func (out *Built) given(kinds ...int) *syntax.Known {
	var list []string
	for _, kind := range kinds {
		for _, d := range out.stated[kind].by {
			if d.name.Given() {
				list = append(list, d.name.Text)
			}
		}
	}
	return syntax.NewKnown(list)
}

// maxComparisons bounds the search for likely names: how many names are
// missing times how many there are. Past it none is offered, for whoever has
// thousands of names missing misspelt none of them.
const maxComparisons = 20_000_000

// reportMissing words the findings on names that nothing has.
func (out *Built) reportMissing(list []missing) {
	if len(list) == 0 {
		return
	}
	var known [len(namesTitles)]*syntax.Known
	var apart [len(namesTitles)]map[string]bool
	for _, x := range list {
		if known[x.of] == nil {
			known[x.of], apart[x.of] = out.list(x.of), map[string]bool{}
		}
		apart[x.of][x.name] = true
	}
	for _, x := range list {
		all := known[x.of]
		f := finding.Finding{Rule: RuleUnknownName, Category: finding.Language, Place: x.at,
			Message: fmt.Sprintf("there is no %s named %s", namesTitles[x.of], syntax.Refer(x.name))}
		near, ok := "", false
		if len(apart[x.of])*len(all.Words()) <= maxComparisons {
			near, ok = all.Nearest(x.name)
		}
		if ok {
			near = syntax.Refer(near)
			f.Message += fmt.Sprintf("; did you mean %s?", near)
			f.Fix = &finding.Fix{Title: "write " + near, Edits: []finding.Edit{{Place: x.at, Text: near}}}
		} else if n := len(all.Words()); n > 0 && n <= 8 {
			f.Message += "; there is " + strings.Join(all.Words(), ", ")
		}
		out.Findings = append(out.Findings, f)
	}
}
