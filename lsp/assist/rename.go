package assist

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Change is the edits of one file, in order.
type Change struct {
	File  *source.File
	Edits []source.Edit
}

// Renameable is the name at an offset of the root text, if it can be changed;
// its error says why not.
func Renameable(a *lang.Analysis, offset int) (Mention, error) {
	m, ok := NameAt(a, offset)
	if !ok {
		return m, errors.New("no name stands here")
	}
	shown := syntax.Refer(m.Text)
	switch m.Kind {
	case "rule", "limit", "finish":
		return m, fmt.Errorf("%s is not a name of this text, so it cannot be renamed here", shown)
	case kindNet:
		return m, nil
	}
	given := slices.ContainsFunc(Mentions(a, m.Name), func(x Mention) bool { return x.States })
	switch {
	case given:
		return m, nil
	case m.Kind == kindEdge && len(a.Board().EdgesNamed(m.Text)) > 0:
		return m, fmt.Errorf("%s is what every shape of this kind calls that edge; only the pieces of a drawn path have names of their own", shown)
	default:
		return m, fmt.Errorf("no %s named %s is stated, so there is nothing to rename", m.Kind, shown)
	}
}

// Rename gives a name another text in all of the analysed texts that speak of
// it, which are roots and the files they use. It refuses what would change
// their meaning: a name that is taken, or one that some place could not be
// written with.
func Rename(roots []*lang.Analysis, n Name, to string) ([]Change, error) {
	if err := writable(n, to); err != nil {
		return nil, err
	}
	renamed := Name{n.Kind, n.Text[:strings.LastIndexByte(n.Text, '.')+1] + to}
	if n.Kind != kindEdge {
		renamed.Text = to
	}
	if renamed == n {
		return nil, nil
	}
	changes := map[string]*Change{}
	for _, a := range roots {
		for _, other := range sharing(renamed) {
			if taken := Mentions(a, other); len(taken) > 0 {
				return nil, takenError(other, taken)
			}
		}
		for _, m := range Mentions(a, n) {
			c := changes[m.File.Path()]
			if c == nil {
				c = &Change{File: m.File}
				changes[m.File.Path()] = c
			}
			if c.File.Text() != m.File.Text() {
				return nil, fmt.Errorf("%s has changed meanwhile", m.File.Path())
			}
			edit := source.Edit{Span: m.Span, Text: syntax.Quote(to)}
			if m.Member != "" { // t.1 becomes "a b.1", in quotes as a whole
				edit = source.Edit{Span: m.Word, Text: to + m.Member}
				if syntax.Quote(to) != to {
					edit.Text = syntax.Quote(edit.Text)
				}
			}
			c.Edits = append(c.Edits, edit)
		}
	}
	list := make([]Change, 0, len(changes))
	for _, c := range changes {
		slices.SortFunc(c.Edits, func(x, y source.Edit) int { return cmp.Compare(x.Span.Start, y.Span.Start) })
		c.Edits = slices.Compact(c.Edits)
		list = append(list, *c)
	}
	slices.SortFunc(list, func(x, y Change) int { return cmp.Compare(x.File.Path(), y.File.Path()) })
	for _, a := range roots {
		if err := sameMeaning(a, n, renamed, list); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// sharing are the names that nothing else may have: items of all kinds share one set.
func sharing(n Name) []Name {
	list := []Name{n}
	k := board.KindNamed(n.Kind)
	if k == nil || !k.SharesNames() {
		return list
	}
	for _, other := range board.Kinds() {
		if other != k && other.SharesNames() {
			list = append(list, Name{other.Word, n.Text})
		}
	}
	return list
}

// writable tells whether a name can be written where names of its kind stand.
func writable(n Name, to string) error {
	switch {
	case to == "":
		return errors.New("a name is not empty")
	case len(to) > syntax.MaxNameLength:
		return fmt.Errorf("a name has at most %d bytes; this one has %d", syntax.MaxNameLength, len(to))
	case strings.ContainsFunc(to, unicode.IsControl):
		return errors.New("a name has no line ends and no control characters")
	case (n.Kind == "let" || n.Kind == kindEdge || n.Kind == "cutout") && syntax.Quote(to) != to:
		return fmt.Errorf("%s cannot be written in an expression: a letter or _ first, then letters, digits and _, and no keyword", syntax.Quote(to))
	}
	if slices.Contains(reserved[n.Kind], to) {
		return fmt.Errorf("%s has a meaning of its own where %s is named", to, article(n.Kind))
	}
	return nil
}

// reserved are the words that have a meaning of their own where a name of a
// kind stands.
var reserved = map[string][]string{
	"let":     {syntax.Middle},
	kindEdge:  {syntax.All},
	kindLayer: {syntax.All},
	"cutout":  {"board"},
}

// article puts a or an before a kind.
func article(kind string) string {
	if strings.ContainsRune("aeiou", rune(kind[0])) {
		return "an " + kind
	}
	return "a " + kind
}

func takenError(n Name, taken []Mention) error {
	m := taken[0]
	if i := slices.IndexFunc(taken, func(m Mention) bool { return m.States }); i >= 0 {
		m = taken[i]
	}
	return fmt.Errorf("%s is taken: %s of that name stands at %s:%d", syntax.Refer(n.Text), article(n.Kind), m.File.Path(), m.File.LineOf(m.Span.Start)+1)
}

// sameMeaning reads a text as the changes would leave it: every place that
// spoke of the old name must speak of the new one, and nothing new be wrong.
func sameMeaning(a *lang.Analysis, old, renamed Name, changes []Change) error {
	files := map[string]*source.File{}
	for _, d := range a.Documents() {
		files[d.File().Path()] = d.File()
	}
	for _, c := range changes {
		f := files[c.File.Path()]
		if f == nil {
			continue
		}
		for _, e := range slices.Backward(c.Edits) {
			f = f.Edit(e.Span, e.Text)
		}
		files[c.File.Path()] = f
	}
	after := lang.Analyze(files[a.Root().Path()], func(path string) (*source.File, error) {
		if f := files[path]; f != nil {
			return f, nil
		}
		return nil, errors.New("it could not be read before")
	}, nil)
	shown := syntax.Refer(renamed.Text)
	if len(after.Findings()) > len(a.Findings()) {
		return fmt.Errorf("with the name %s the text would no longer be right: %s", shown, newFinding(a, after))
	}
	if len(Mentions(after, renamed)) != len(Mentions(a, old)) {
		return fmt.Errorf("with the name %s some places would speak of something else", shown)
	}
	return nil
}

func newFinding(before, after *lang.Analysis) string {
	known := map[string]int{}
	for _, f := range before.Findings() {
		known[f.Message]++
	}
	for _, f := range after.Findings() {
		if known[f.Message]--; known[f.Message] < 0 {
			return f.Message
		}
	}
	return "there are more findings"
}
