package board

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

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
		if d.kind == nil || d.name.Text == "" && !d.kind.Once {
			continue
		}
		k := key{name: d.name.Text}
		switch {
		case d.kind.Once:
			k = key{space: d.word}
		case d.kind.own:
			k.space = d.word
		}
		other := first[k]
		if other == nil {
			first[k] = d
			continue
		}
		out.unique = false
		mine, used := d, other
		switch here, there := d.stmt.Anchor().Path, other.stmt.Anchor().Path; {
		case d.kind.own || d.kind.Once || here == there:
			out.Findings = append(out.Findings, duplicate(d, other))
			continue
		case here != out.root && there != out.root:
			continue // of two used files' the later stands
		case there == out.root:
			mine, used = other, d
		}
		out.Findings = append(out.Findings, hidden(mine, used))
	}
}

// hidden says that a name of the file itself stands before a used file's.
func hidden(mine, used *decoded) finding.Finding {
	name := syntax.Refer(mine.name.Text)
	return finding.Finding{Rule: RuleDuplicate, Category: finding.Tidy, Place: mine.name.At,
		Message: fmt.Sprintf("this %s stands before the %s %s of %s, which nothing here can be like", mine.word, used.word, name, used.stmt.Anchor().Path),
		Related: []finding.Related{{Place: used.name.At, Message: "the one of the used file"}}}
}

func duplicate(d, other *decoded) finding.Finding {
	f := finding.Finding{Rule: RuleDuplicate, Category: finding.Language, Place: d.name.At}
	at := other.name.At
	if d.kind.Once {
		f.Place = keywordOf(d)
		at = keywordOf(other)
		article := "a"
		if strings.ContainsRune("aeiou", rune(d.word[0])) {
			article = "an"
		}
		f.Message = fmt.Sprintf("there is %s %s already; a file states one", article, d.word)
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

// missing is a name that nothing has. What is said of it depends on what else
// there is, so it is worded for each board anew and never taken over.
type missing struct {
	at   source.Place
	of   *origin
	name string
}

// origin is where a name may come from.
type origin struct {
	title string
	words []string // the keywords of the statements that give it, where statements do
	// one tells that it names one thing: a row's own name is none, its members' are.
	one   bool
	known func(*Built) *syntax.Known
}

var (
	valueNames = &origin{title: "value", known: func(out *Built) *syntax.Known { return out.env.values() }}
	edgeNames  = &origin{title: "edge", known: func(out *Built) *syntax.Known { return out.env.geo.names() }}
	layerNames = &origin{title: "copper layer", known: func(out *Built) *syntax.Known {
		if stack := out.env.stack(); stack != nil {
			return syntax.NewKnown(stack.copper())
		}
		return syntax.NewKnown(faceNames[:])
	}}
	platingNames = givenBy("plating")
	roomNames    = oneOf("connector", "tab") // what a gap is for
	reliefNames  = givenBy("plating", "castellation")

	// modelNames are what items may be like, by the keyword of their kind.
	modelNames = namesOfModels()
	// origins are those of names that statements give.
	origins = append([]*origin{platingNames, roomNames, reliefNames}, slices.Collect(maps.Values(modelNames))...)
)

func namesOfModels() map[string]*origin {
	of := map[string]*origin{}
	for _, s := range syntax.Vocabulary() {
		if s.Clause("like") != nil {
			of[s.Word] = givenBy("typical", s.Word)
		}
	}
	return of
}

// givenBy is the origin of names that statements give, those without a meaning too.
func givenBy(words ...string) *origin { return given(words, false) }

// oneOf is that of names of one thing, no row.
func oneOf(words ...string) *origin { return given(words, true) }

func given(words []string, one bool) *origin {
	return &origin{title: strings.Join(words, " or "), words: words, one: one, known: func(out *Built) *syntax.Known {
		var list []string
		for _, word := range words {
			if s := out.stated[word]; s != nil {
				for _, d := range s.by {
					switch {
					case !d.name.Given():
					case one && d.rowed > 1:
						for _, x := range d.members {
							list = append(list, x.(item).Base().Name.Text)
						}
					default:
						list = append(list, d.name.Text)
					}
				}
			}
		}
		return syntax.NewKnown(list)
	}}
}

// unknown reports a name that nothing has.
func (m *meaning) unknown(at source.Place, of *origin, name string) {
	m.missing = append(m.missing, missing{at, of, name})
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
	known, apart := map[*origin]*syntax.Known{}, map[*origin]map[string]bool{}
	for _, x := range list {
		if known[x.of] == nil {
			known[x.of], apart[x.of] = x.of.known(out), map[string]bool{}
		}
		apart[x.of][x.name] = true
	}
	for _, x := range list {
		all := known[x.of]
		f := finding.Finding{Rule: RuleUnknownName, Category: finding.Language, Place: x.at,
			Message: fmt.Sprintf("there is no %s named %s", x.of.title, syntax.Refer(x.name))}
		if x.of.one && slices.ContainsFunc(x.of.words, func(word string) bool { return out.stated[word] != nil && out.stated[word].rows[x.name] }) {
			f.Message = fmt.Sprintf("%s is a row; name the one of it that the gap is for, such as %[1]s.1", syntax.Refer(x.name))
			out.Findings = append(out.Findings, f)
			continue
		}
		near, ok := "", false
		if len(apart[x.of])*len(all.Words()) <= maxComparisons {
			near, ok = all.Nearest(x.name)
		}
		if ok {
			near = syntax.Refer(near)
			f.Message += fmt.Sprintf("; did you mean %s?", near)
			f.Fix = &finding.Fix{Title: "write " + near, Edits: []finding.Edit{{Place: x.at, Text: near}}}
		} else if n := len(all.Words()); n > 0 && n <= 8 {
			f.Message += "; there " + areAll(all.Words())
		}
		out.Findings = append(out.Findings, f)
	}
}

// areAll lists what there is, one or more, with its verb: "is a", "are a, b and c".
func areAll(names []string) string {
	last := len(names) - 1
	if last == 0 {
		return "is " + names[0]
	}
	return "are " + strings.Join(names[:last], ", ") + " and " + names[last]
}
