package board

import (
	"fmt"
	"strings"
	"sync"

	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// decoded is the meaning of one statement, kept for as long as the statement
// and what it read stay the same.
type decoded struct {
	stmt     *syntax.Statement
	word     string
	kind     *Kind // nil for a word that no statement begins with
	name     Name
	item     any   // a pointer to the item, nil where the text gives none, or a row
	members  []any // of a row
	rowed    int   // how many members the row was to have
	findings []finding.Finding
	reads    reads
	missing  []missing         // names that nothing has
	dropped  bool              // the board has too much without it, see MaxAllItems
	circles  []finding.Finding // that run through it
	follows  *Followed         // what it takes clauses over from, nil for nothing
}

// holds tells whether everything the meaning depended on is the same in an env.
func (d *decoded) holds(e *env) bool {
	for _, r := range d.reads.names {
		q, f := e.value(r.name)
		if f == circular {
			f = bad // in either case the reader has nothing to say
		}
		if r.found != f || f == good && q != r.value {
			return false
		}
	}
	for _, r := range d.reads.likes {
		if !r.holds(e) {
			return false
		}
	}
	if d.reads.shapes && e.geo != e.before.geo {
		return false
	}
	return !d.reads.stack || e.stack() == e.before.stack()
}

// stack is the stack that is in force, or nil.
func (e *env) stack() *Stack {
	if e.stackEntry == nil {
		return nil
	}
	s, _ := e.stackEntry.item.(*Stack)
	return s
}

// asFindings turns faults of form into findings.
func asFindings(s *syntax.Statement, problems []syntax.Problem) []finding.Finding {
	var list []finding.Finding
	for _, p := range problems {
		f := finding.Finding{Rule: p.Rule, Category: finding.Language, Place: p.Place, Message: p.Message}
		if p.Append != "" {
			end := source.Place{Anchor: s.Anchor(), Start: s.Whole().End, End: s.Whole().End}
			f.Fix = &finding.Fix{Title: "add" + p.Append, Edits: []finding.Edit{{Place: end, Text: p.Append}}, Guess: true} // until its author says more
		}
		if p.Replace != "" {
			f.Fix = &finding.Fix{Title: "write " + p.Replace, Edits: []finding.Edit{{Place: p.Place, Text: p.Replace}}}
		}
		list = append(list, f)
	}
	return list
}

// decode reads any statement.
func decode(e *env, s *syntax.Statement) *decoded {
	if r := syntax.Read(s); r != nil {
		d := decodeReading(e, s, r)
		return &d
	}
	d := &decoded{stmt: s, word: s.Word(), kind: kindOf(s), findings: asFindings(s, s.Problems())}
	if len(d.findings) == 0 || s.Word() != "" {
		d.findings = append(d.findings, asFindings(s, []syntax.Problem{syntax.Unknown(s)})...)
	}
	return d
}

// meanings are kept for the next statement: each is needed for a moment only.
var meanings = sync.Pool{New: func() any { return new(meaning) }}

func decodeReading(e *env, s *syntax.Statement, r *syntax.Reading) decoded {
	d := decoded{stmt: s, word: r.Spec.Word, kind: kindOf(s), findings: append(asFindings(s, s.Problems()), asFindings(s, r.Problems)...)}
	base := Item{Keyword: r.Keyword, Whole: s.Whole()}
	if len(r.Spec.Args) > 0 && r.Spec.Args[0].Kind == syntax.VNew {
		base.Name = nameOf(&r.Clause, 0)
		d.name = base.Name
		if dot := strings.LastIndexByte(d.name.Text, '.'); dot > 0 && d.kind != nil && d.kind.SharesNames() && StandsFor(d.name.Text[:dot], d.name.Text) {
			d.findings = append(d.findings, finding.Finding{Rule: RuleWrongValue, Category: finding.Language, Place: d.name.At,
				Message: fmt.Sprintf("%s is what a member of a row %s is called; give another name", syntax.Quote(d.name.Text), syntax.Refer(d.name.Text[:dot]))})
		}
	}
	m := meanings.Get().(*meaning)
	*m = meaning{env: e}
	if d.kind.read != nil {
		r, d.follows = m.follow(r)
		d.take(m, r, base)
		m.taken(d.follows)
	}
	d.findings = append(d.findings, m.findings...)
	d.reads, d.missing = m.reads, m.missing
	unlikely := m.unlikely
	*m = meaning{}
	meanings.Put(m)
	for i, x := range d.all() {
		x, ok := x.(item)
		if ok && i == 0 {
			x.Base().Unlikely = unlikely
		}
		if ok && len(d.findings)+len(d.missing) > 0 {
			x.Base().Faulty = true
		}
	}
	return d
}

// items counts what a row holds, and says where the number comes from.
func (d *decoded) items() (n int, at source.Place) {
	if d.kind == nil || d.kind.count == nil {
		return 0, source.Place{}
	}
	for _, x := range d.all() {
		k, from := d.kind.count(x)
		n, at = n+k, from
	}
	return n, at
}

// drop leaves out a row that is too much for the board.
func (d *decoded) drop(at source.Place) {
	d.item, d.members, d.dropped = nil, nil, true
	d.findings = append(d.findings, finding.Finding{
		Rule: RuleTooMany, Category: finding.Language, Place: at,
		Message: fmt.Sprintf("with this row there are more than %d half holes, vias and holes of tabs on the board, the most that are read", MaxAllItems),
	})
}

func (d *decoded) isFaulty() bool { return len(d.findings)+len(d.circles)+len(d.missing) > 0 }
