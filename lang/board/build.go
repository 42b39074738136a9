package board

import (
	"fmt"
	"slices"
	"sync"

	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Unit is the statements of one file that a board is made of.
type Unit struct {
	Statements []*syntax.Statement
	// Root is the file that was asked for; of the others only the statements
	// that `use` brings in count.
	Root bool
}

// brought are the statements that `use` brings in.
var brought = map[string]bool{"let": true, "stack": true, "fabricator": true}

// Built is a board and what came of building it, kept to build the next
// version of the same text from.
type Built struct {
	Board      *Board
	Findings   []finding.Finding
	env        *env
	statements []*syntax.Statement // that count
	decoded    []*decoded          // what each of them means
	gathered
	// duplicates are the findings on names that stand twice, and unique that
	// there is none.
	unique bool
}

// Build makes the board that the units state. It takes over from prev, the
// result for an earlier version or nil, the meaning of every statement that is
// still the same and read the same; the result does not depend on prev.
func Build(units []Unit, prev *Built) *Built {
	if prev == nil {
		prev = &Built{Board: &Board{}}
	}
	out := &Built{statements: counting(units)}
	front, back := source.Common(prev.statements, out.statements)
	if prev.env != nil && front == len(out.statements) && front == len(prev.statements) {
		return prev // what changed is between the statements
	}
	changed := out.statements[front : len(out.statements)-back]
	gone := prev.statements[front : len(prev.statements)-back]
	if out.env = prev.env; out.env == nil || slices.ContainsFunc(changed, makesEnv) || slices.ContainsFunc(gone, makesEnv) {
		out.env = newEnv(out.statements, prev.env)
	}
	if !out.patch(prev, front, back) {
		out.decodeAll(prev, front, back)
		out.gatherAll()
	}
	out.assemble(prev)
	out.checkNames(prev)
	return out
}

// counting lists the statements that count: all of the root's, of the used
// files' what `use` brings in.
func counting(units []Unit) []*syntax.Statement {
	if len(units) == 1 && units[0].Root {
		return units[0].Statements
	}
	var list []*syntax.Statement
	for _, u := range units {
		for _, s := range u.Statements {
			if u.Root || brought[s.Word()] {
				list = append(list, s)
			}
		}
	}
	return list
}

// decodeAll gives every statement its meaning: those at the front and the
// back that the version before had too keep theirs if it still holds.
func (out *Built) decodeAll(prev *Built, front, back int) {
	out.decoded = make([]*decoded, len(out.statements))
	copy(out.decoded, prev.decoded[:front])
	copy(out.decoded[len(out.decoded)-back:], prev.decoded[len(prev.decoded)-back:])
	sameEnv := prev.env == out.env
	if !sameEnv && prev.env != nil {
		// What the meanings read is looked up in the new env, against the old.
		out.env.before = prev.env
		defer func() { out.env.before = nil }()
	}
	fresh := out.decodeNew()
	for i, s := range out.statements {
		d := out.decoded[i]
		switch {
		case fresh[i] != nil:
			d = fresh[i]
		case d != nil && sameEnv && !d.dropped:
		case makesEnv(s):
			d = &out.env.byStmt[s].decoded
		case d == nil || d.dropped || !d.holds(out.env):
			d = decode(out.env, s)
		}
		out.decoded[i] = d
		n, at := d.items()
		if out.items+n > MaxAllItems {
			d.drop(at)
			out.dropped = true
			continue
		}
		out.items += n
	}
}

// decodeChunk is how many statements are worth a goroutine of their own.
const decodeChunk = 200

// decodeNew gives the statements their meaning that no version before had. What
// they read, the env, is complete, so that they can be read side by side.
func (out *Built) decodeNew() []*decoded {
	fresh := make([]*decoded, len(out.statements))
	var work sync.WaitGroup
	for from := 0; from < len(fresh); from += decodeChunk {
		decodeSome := func() {
			for i := from; i < min(from+decodeChunk, len(fresh)); i++ {
				if s := out.statements[i]; out.decoded[i] == nil && !makesEnv(s) {
					fresh[i] = decode(out.env, s)
				}
			}
		}
		if len(fresh) <= decodeChunk {
			decodeSome()
		} else {
			work.Go(decodeSome)
		}
	}
	work.Wait()
	return fresh
}

// items counts what a row holds, and says where the number comes from.
func (d *decoded) items() (n int, at source.Place) {
	switch x := d.item.(type) {
	case *Castellation:
		if n, at = len(x.Centres), x.Pitch.At; !x.Pitch.Given() {
			at = x.Keyword
		}
	case *Fence:
		n, at = len(x.Vias), x.Pitch.At
	case *Tab:
		n, at = x.HoleCount(), x.Pitch.At
	}
	return n, at
}

// drop leaves out a row that is too much for the board.
func (d *decoded) drop(at source.Place) {
	d.item, d.dropped = nil, true
	d.findings = append(d.findings, finding.Finding{
		Rule: RuleTooMany, Category: finding.Language, Place: at,
		Message: fmt.Sprintf("with this row there are more than %d half holes, vias and holes of tabs on the board, the most that are read", MaxAllItems),
	})
}

// single are the statements that may stand only once.
var single = map[string]bool{"hem": true, "board": true, "stack": true, "outline": true}

// space is the list of names within which a name may stand only once.
func space(word string) string {
	if word == "castellation" {
		return "plating" // relief names either
	}
	return word
}

// checkNames reports names and statements that stand twice. Where the version
// before had none, and the statements that changed still give the same names,
// there is nothing to look for.
func (out *Built) checkNames(prev *Built) {
	if prev.unique && sameNames(prev.decoded, out.decoded) {
		out.unique = true
		return
	}
	type key struct{ space, name string }
	first := make(map[key]*decoded, len(out.decoded))
	out.unique = true
	for _, d := range out.decoded {
		if d.name.Text == "" && !single[d.word] {
			continue
		}
		k := key{space(d.word), d.name.Text}
		if single[d.word] {
			k.name = ""
		}
		other := first[k]
		if other == nil {
			first[k] = d
			continue
		}
		out.unique = false
		out.Findings = append(out.Findings, duplicate(d, other))
	}
}

func duplicate(d, other *decoded) finding.Finding {
	f := finding.Finding{Rule: RuleDuplicate, Category: finding.Language, Place: d.name.At}
	at := other.name.At
	if single[d.word] {
		f.Place = keywordOf(d)
		at = keywordOf(other)
		f.Message = "there is a " + d.word + " already; a file states one"
		if d.word == "outline" {
			f.Message = "there is an outline already; a file states one"
		}
	} else {
		f.Message = fmt.Sprintf("there is a %s named %s already", other.word, syntax.Quote(d.name.Text))
	}
	f.Related = []finding.Related{{Place: at, Message: "the first one"}}
	return f
}

func keywordOf(d *decoded) source.Place {
	p := d.stmt.Whole()
	p.End = int32(len(d.word))
	return p
}

func sameNames(old, now []*decoded) bool {
	if len(old) != len(now) {
		return false
	}
	for i, d := range now {
		if d != old[i] && (d.word != old[i].word || d.name.Text != old[i].name.Text) {
			return false
		}
	}
	return true
}
