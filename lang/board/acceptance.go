package board

import (
	"strings"

	"hemline/lang/syntax"
)

// Acceptance is a finding that is agreed.
type Acceptance struct {
	Item           // Name is the rule's
	On      []Name // the items; what is accepted is on one of them
	With    Name   // the other item of findings between two; not Given for findings on one
	Because Name
	Until   Name
}

func (m *meaning) acceptance(r *syntax.Reading, base Item) *Acceptance {
	a := &Acceptance{Item: base, On: namesOf(r.Get("on")), With: nameOf(r.Get("with"), 0), Because: nameOf(r.Get("because"), 0), Until: m.date(r.Get("until"))}
	a.Item.Name = nameOf(&r.Clause, 0)
	if a.Because.Given() && !a.Because.Answers() {
		m.report(RuleWrongValue, a.Because.At, "because gives no reason; %s", syntax.AsksWhy("accept"))
	}
	if !a.Item.Name.Given() || len(a.On) == 0 {
		return nil
	}
	return a
}

// Accepts tells whether the acceptance, by one of the names that its `on` gives,
// speaks of what is on these items: one, or two in either order.
func (a *Acceptance) Accepts(on Name, items []string) bool {
	switch {
	case len(items) == 1:
		return !a.With.Given() && StandsFor(on.Text, items[0])
	case len(items) != 2 || !a.With.Given():
		return false
	}
	return StandsFor(on.Text, items[0]) && StandsFor(a.With.Text, items[1]) || StandsFor(on.Text, items[1]) && StandsFor(a.With.Text, items[0])
}

// StandsFor tells whether a name is an item's, or that of the row that the item
// is a member of: t stands for t.1.
func StandsFor(name, item string) bool {
	if name == item {
		return true
	}
	number, ok := strings.CutPrefix(item, name+".")
	return ok && number != "" && strings.Trim(number, "0123456789") == ""
}
