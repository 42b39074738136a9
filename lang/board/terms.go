package board

import (
	"fmt"

	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// ToleranceSet is one statement of how exact the board must be, by clause.
type ToleranceSet struct {
	Item
	Of map[string]Value // nm; the thickness may be a share
}

// Criteria is one statement of what plated edges are accepted by, by clause.
type Criteria struct {
	Item
	Of map[string]Criterion
}

// Criterion is what one clause of criteria says: a word or a text, or the most
// that is accepted.
type Criterion struct {
	Choice
	Maximum Value
	Clause  source.Place
}

// Given tells whether the text states the criterion.
func (c Criterion) Given() bool { return c.Clause.Anchor != nil }

// Answers tells whether the criterion says something.
func (c Criterion) Answers() bool { return c.Maximum.Given() || c.Choice.Answers() }

// keyed names a statement without a name by its keyword, so that an acceptance may.
func (i Item) keyed(r *syntax.Reading) Item {
	i.Name = Name{r.Spec.Word, i.Keyword}
	return i
}

func (m *meaning) tolerance(r *syntax.Reading, base Item) *ToleranceSet {
	t := &ToleranceSet{Item: base.keyed(r), Of: map[string]Value{}}
	for _, c := range r.Clauses {
		if c.Broken {
			continue
		}
		if v := m.quantity(c, 0, positive); v.Given() {
			t.Of[c.Spec.Word] = v
		}
	}
	return t
}

func (m *meaning) criteria(r *syntax.Reading, base Item) *Criteria {
	k := &Criteria{Item: base.keyed(r), Of: map[string]Criterion{}}
	for _, c := range r.Clauses {
		if c.Broken {
			continue
		}
		x := Criterion{Choice: choiceOf(c), Clause: c.Place()}
		x.Maximum = m.quantity(c.Get("maximum"), 0, positive)
		if c.Spec.Clause("maximum") != nil {
			switch stands := c.Stands("maximum"); {
			case x.Choice.Given() && stands:
				m.report(syntax.RuleRepeated, c.Place(), "%s takes none or maximum, not both", c.Spec.Word)
				continue
			case !x.Choice.Given() && !stands && len(c.Spec.Args) > 0:
				m.report(RuleMissing, c.Place(), "expected none or maximum: what %s are accepted", c.Spec.Word)
				continue
			case stands && !x.Maximum.Given():
				continue
			}
		}
		if c.Spec.Word == "bow" && x.Maximum.Value > mostBow {
			m.report(RuleWrongValue, x.Maximum.At, "bow and twist of %g %% of the length are no limit; was %g %% meant?", x.Maximum.Value*100, x.Maximum.Value)
			continue
		}
		k.Of[c.Spec.Word] = x
	}
	return k
}

// mostBow is a share of the length past which bow and twist are no limit: 0.75 to
// 1.5 % are common practice, no source.
const mostBow = 0.1

// inForce is which of two statements of one clause holds, the second being the
// later: no used file's stands before the root's own.
func inForce[T any](root string, old T, oldAt source.Place, now T, nowAt source.Place) T {
	if oldAt.Anchor != nil && oldAt.Anchor.Path == root && nowAt.Anchor.Path != root {
		return old
	}
	return now
}

// twice reports what several statements of one file say of one clause.
func (out *Built) twice(word string, said []map[string]source.Place) {
	type key struct{ path, clause string }
	first := map[key]source.Place{}
	for _, of := range said {
		for _, c := range syntax.StatementNamed(word).Clauses {
			at, ok := of[c.Word]
			if !ok {
				continue
			}
			k := key{at.Anchor.Path, c.Word}
			other, again := first[k]
			if !again {
				first[k] = at
				continue
			}
			out.Findings = append(out.Findings, finding.Finding{
				Rule: syntax.RuleRepeated, Category: finding.Language, Place: at,
				Message: fmt.Sprintf("%s is stated already, by another %s of this file", c.Word, word),
				Related: []finding.Related{{Place: other, Message: "the first one"}},
			})
		}
	}
}
