package board

import (
	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

// Let is a named value.
type Let struct {
	Item
	Value quantity.Quantity
	OK    bool // false where its expression has no value
}

func (m *meaning) let(r *syntax.Reading, base Item) *Let {
	l := &Let{Item: base}
	if r.Assign != nil {
		l.Value, l.OK = m.eval(*r.Assign)
	}
	return l
}

// version reads `hem`, which has no item.
func (m *meaning) version(r *syntax.Reading) {
	if v := m.quantity(&r.Clause, 0, anySign); v.Given() && v.Value != 1 {
		m.report(RuleWrongValue, v.At, "this is hemline for version 1 of the language; the file asks for version %s", v.Quantity)
	}
}
