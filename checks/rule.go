package checks

import (
	"slices"

	"hemline/lang/finding"
)

// Rule is one thing that is checked. Its document is here and nowhere else:
// `explain`, hover, the reference and SARIF all read it.
type Rule struct {
	Name     string // words joined by underscores, readable in `accept NAME on …`; never changed
	Group    string // the heading it stands under
	Category finding.Category
	Finds    string // what it fires on, one sentence
	Why      string // why that matters
	Bad      string // a whole text on which this rule fires, and no other
	Good     string // the same text mended; nothing fires
	Limits   []string
	Source   string // where the rule itself comes from
	// Run looks at the pass's board and reports. It depends on nothing but what
	// the pass gives it: what it reads there is recorded, and it is not run again
	// on a version of the text in which nothing of that differs.
	Run func(*Pass)
	// Least is how near the pairs come that a limit of the rule's holds, in nm, as
	// far as the limit's value goes; +Inf for none. It is under 0 where a pair
	// fails whatever that limit is. A measure asks it, and then runs Run for the
	// rest: where p.Measures, Run leaves such pairs out.
	Least func(p *Pass, limit string) float64
	// AllRun tells that it looks at what other rules find, so that what it says
	// without them is not what it has to say.
	AllRun bool
	// NoWay says why no change of a text is known to be right for what it finds; empty
	// for most, whose ways out are looked for and tried.
	NoWay string
}

// Groups in the order in which references list them.
const (
	GroupShape      = "shape"
	GroupBoard      = "the board"
	GroupPlating    = "plating"
	GroupConnectors = "connectors"
	GroupMask       = "mask"
	GroupTabs       = "tabs"
	GroupHalfHoles  = "half holes"
	GroupFence      = "via fence"
	GroupPhysics    = "physics"
	GroupHouse      = "housekeeping"
)

// Catalogue is the rules that there are, in the order of the references.
type Catalogue []*Rule

// Named finds a rule, or nil.
func (c Catalogue) Named(name string) *Rule {
	i := slices.IndexFunc(c, func(r *Rule) bool { return r.Name == name })
	if i < 0 {
		return nil
	}
	return c[i]
}

// Names lists the rules' names.
func (c Catalogue) Names() []string {
	names := make([]string, len(c))
	for i, r := range c {
		names[i] = r.Name
	}
	return names
}
