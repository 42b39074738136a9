package board

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Names of the findings about a text's meaning.
const (
	RuleUnknownName = "unknown_name"
	RuleWrongValue  = syntax.RuleWrongValue
	RuleDuplicate   = "duplicate_name"
	RuleCircle      = "circle"
	RuleOffEdge     = "off_edge"
	RuleTooMany     = "too_many"
	RuleMissing     = syntax.RuleMissingClause
)

// MaxLength bounds every length, nm: 100 m. Past it, nanometres in a float64
// would no longer be exact, and no board is near it.
const MaxLength = 1e11

// MaxItems bounds what one row (of half holes, of vias, of a tab's holes) may hold, MaxAllItems
// all of a board's rows together.
const (
	MaxItems    = 20_000
	MaxAllItems = 100_000
)

// reads is what the meaning of a statement depended on beside its own text.
type reads struct {
	names  []readName
	shapes bool // the geometry as a whole
	stack  bool
	likes  []readLike
}

type readName struct {
	name  string
	value quantity.Quantity
	found found
}

// meaning reads the values of one statement.
type meaning struct {
	env       *env
	reads     reads
	findings  []finding.Finding
	missing   []missing
	unlikely  []Unlikely
	on        *Edge // that positions are measured on while one is evaluated
	ofTypical bool  // a typical is read, whose layers may be those of whoever is like it
}

func (m *meaning) report(rule string, at source.Place, format string, args ...any) *finding.Finding {
	m.findings = append(m.findings, finding.Finding{
		Rule: rule, Category: finding.Language, Place: at, Message: fmt.Sprintf(format, args...),
	})
	return &m.findings[len(m.findings)-1]
}

// eval gives an expression its value; ok is false, with a finding, where it has none.
func (m *meaning) eval(v syntax.Value) (quantity.Quantity, bool) {
	switch e := v.Expr; e.Op {
	case syntax.OpNumber:
		var unit *quantity.Unit
		if name := v.Unit(); name != "" {
			unit, _ = quantity.UnitNamed(name)
		}
		q, err := quantity.Parse(v.Token(), unit)
		return q, m.check(err, v)
	case syntax.OpName:
		return m.name(v)
	case syntax.OpNegate:
		q, ok := m.eval(v.Of(e.Args[0]))
		return quantity.Neg(q), ok
	case syntax.OpGroup:
		return m.eval(v.Of(e.Args[0]))
	case syntax.OpCall:
		return m.call(v)
	case syntax.OpAdd, syntax.OpSubtract, syntax.OpMultiply, syntax.OpDivide:
		a, ok := m.eval(v.Of(e.Args[0]))
		b, also := m.eval(v.Of(e.Args[1]))
		if !ok || !also {
			return quantity.Quantity{}, false
		}
		q, err := [...]func(a, b quantity.Quantity) (quantity.Quantity, error){
			quantity.Add, quantity.Sub, quantity.Mul, quantity.Div,
		}[e.Op-syntax.OpAdd](a, b)
		return q, m.check(err, v)
	}
	m.report(RuleWrongValue, v.Place(), "expected a number or a name, found %s", v.Source())
	return quantity.Quantity{}, false
}

func (m *meaning) check(err error, v syntax.Value) bool {
	if err != nil {
		m.report(RuleWrongValue, v.Place(), "%s", err)
	}
	return err == nil
}

func (m *meaning) call(v syntax.Value) (quantity.Quantity, bool) {
	f, known := quantity.FunctionNamed(v.Token())
	args, ok := make([]quantity.Quantity, len(v.Expr.Args)), known
	for i, e := range v.Expr.Args {
		q, good := m.eval(v.Of(e))
		args[i], ok = q, ok && good
	}
	if !ok {
		return quantity.Quantity{}, false
	}
	q, err := quantity.Call(f, args)
	return q, m.check(err, v)
}

func (m *meaning) name(v syntax.Value) (quantity.Quantity, bool) {
	name, _ := v.Word()
	if m.on != nil && name == syntax.Middle {
		return quantity.Nanometres(grid(m.on.Length / 2)), true
	}
	q, found := m.env.value(name)
	if found == circular {
		found = bad
	}
	m.reads.names = append(m.reads.names, readName{name, q, found})
	switch {
	case found != unknown:
	case m.env.shapes[""] == nil && strings.HasPrefix(name, "board.") && slices.Contains(shapeValues, name[len("board."):]):
		m.report(RuleMissing, v.Place(), "there is no %s: the file states no outline", name)
	default:
		m.unknown(v.Place(), valueNames, name)
	}
	return q, found == good
}

// value evaluates a clause's value and holds it to its dimension.
func (m *meaning) value(v syntax.Value, dim quantity.Dimension) (Value, bool) {
	q, ok := m.eval(v)
	if !ok {
		return Value{}, false
	}
	return m.as(q, v, dim)
}

// as holds what a clause's value came to to its dimension.
func (m *meaning) as(q quantity.Quantity, v syntax.Value, dim quantity.Dimension) (Value, bool) {
	if q.Dim != dim {
		if q.Dim == quantity.None && dim != quantity.None && v.Expr.Op == syntax.OpNumber {
			m.report(RuleWrongValue, v.Place(), "%s has no unit; expected %s such as %s %s", v.Source(), dim, v.Token(), strings.TrimPrefix(dim.Example(), "1.5 "))
		} else {
			f := m.report(RuleWrongValue, v.Place(), "expected %s, found %s (%s)", dim, q.Dim, q)
			if q.Dim == quantity.Temperature && dim == quantity.Difference && v.Expr.Op == syntax.OpNumber {
				k := v.Token() + " " + quantity.Kelvin.Name
				f.Fix = &finding.Fix{Title: "write " + k, Edits: []finding.Edit{{Place: v.Place(), Text: k}}}
			}
		}
		return Value{}, false
	}
	if dim == quantity.Length {
		if math.Abs(q.Value) > MaxLength {
			m.report(RuleWrongValue, v.Place(), "%s is longer than 100 m, the most that is read", v.Source())
			return Value{}, false
		}
		q.Value = grid(q.Value)
	}
	return Value{q, v.Place()}, true
}

// grid rounds a length to 1/1024 nm, so that what expressions computed in
// different ways compares equal. It is exact for whole nanometres.
func grid(nm float64) float64 { return math.Round(nm*1024) / 1024 }

// Signs that a clause's value may have.
type sign int

const (
	anySign sign = iota
	notNegative
	positive
)

func (m *meaning) holds(v Value, s sign, what string) bool {
	switch {
	case s == positive && v.Quantity.Value <= 0:
		m.report(RuleWrongValue, v.At, "%s must be more than 0, found %s", what, v.Quantity)
	case s == notNegative && v.Quantity.Value < 0:
		m.report(RuleWrongValue, v.At, "%s must not be negative, found %s", what, v.Quantity)
	default:
		return true
	}
	return false
}

// quantity reads value number i of a clause that may be nil; an absent or
// faulty one is not Given, the fault being reported.
func (m *meaning) quantity(c *syntax.Clause, i int, s sign) Value {
	if c == nil || i >= len(c.Values) || i >= len(c.Spec.Args) {
		return Value{}
	}
	return m.quantityOf(c, i, i, s)
}

// quantities reads all values of a clause that takes several; none where one of
// them is faulty.
func (m *meaning) quantities(c *syntax.Clause) []Value {
	if c == nil {
		return nil
	}
	list := make([]Value, len(c.Values))
	for i := range list {
		if list[i] = m.quantityOf(c, i, 0, positive); !list[i].Given() {
			return nil
		}
	}
	return list
}

// quantityOf reads value number n of a clause, which is what its Arg number i says.
func (m *meaning) quantityOf(c *syntax.Clause, n, i int, s sign) Value {
	dim := c.Spec.Args[i].Dim
	if e := c.Values[n].Expr; c.Spec.Args[i].Share && e.Op == syntax.OpNumber && c.Values[n].Unit() == quantity.Percent.Name {
		dim = quantity.None
	}
	v, ok := m.value(c.Values[n], dim)
	if !ok || !m.holds(v, s, c.Spec.Word) {
		return Value{}
	}
	if l := c.Spec.Args[i].Likely; l != nil && dim == quantity.Length && !l.Holds(v.Quantity.Value) && !c.Values[n].Taken() {
		m.unlikely = append(m.unlikely, Unlikely{c.Spec.Word, l, v, plain(c.Values[n].Expr)})
	}
	return v
}

// plain tells whether an expression is a number, with a sign or without.
func plain(e *syntax.Expr) bool {
	return e.Op == syntax.OpNumber || e.Op == syntax.OpNegate && e.Args[0].Op == syntax.OpNumber
}

func nameOf(c *syntax.Clause, i int) Name {
	if c == nil || i >= len(c.Values) {
		return Name{}
	}
	word, _ := c.Values[i].Word()
	return Name{word, c.Values[i].Place()}
}

// choiceOf is the first value of a clause as a text or a word in its place.
func choiceOf(c *syntax.Clause) Choice {
	n := nameOf(c, 0)
	return Choice{n, n.Given() && c.Values[0].Plain() != ""}
}

// date reads a date; one that is none is reported, and not Given.
func (m *meaning) date(c *syntax.Clause) Name {
	n := nameOf(c, 0)
	if !n.Given() {
		return n
	}
	if _, err := time.Parse(time.DateOnly, n.Text); err != nil {
		m.report(RuleWrongValue, n.At, "expected a date such as \"2027-06-30\", found %q", n.Text)
		return Name{}
	}
	return n
}

func namesOf(c *syntax.Clause) []Name {
	if c == nil {
		return nil
	}
	list := make([]Name, len(c.Values))
	for i := range c.Values {
		list[i] = nameOf(c, i)
	}
	return list
}
