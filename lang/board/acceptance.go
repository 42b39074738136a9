package board

import (
	"time"

	"hemline/lang/syntax"
)

// Acceptance is a finding that is agreed.
type Acceptance struct {
	Item    // Name is the rule's
	On      Name
	Because Name
	Until   Name
}

func (m *meaning) acceptance(r *syntax.Reading, base Item) *Acceptance {
	a := &Acceptance{Item: base, On: nameOf(r.Get("on"), 0), Because: nameOf(r.Get("because"), 0), Until: nameOf(r.Get("until"), 0)}
	a.Item.Name = nameOf(&r.Clause, 0)
	if a.Until.Given() {
		if _, err := time.Parse(time.DateOnly, a.Until.Text); err != nil {
			m.report(RuleWrongValue, a.Until.At, "expected a date such as \"2027-06-30\", found %q", a.Until.Text)
			a.Until = Name{}
		}
	}
	if !a.Item.Name.Given() || !a.On.Given() {
		return nil
	}
	return a
}
