package assist

import (
	"fmt"
	"strings"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/emit/queries"
	"hemline/lang/emit/wording"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Card is what is known of the thing at a place, as Markdown.
type Card struct {
	Span     source.Span // the range that the card speaks of
	Markdown string
}

// Hover is the card for what stands at an offset of the root text: a keyword,
// a name or a quantity, with what a value leaves of the limits that it is held to.
// The options say what the board is held to. What takes long to work out is kept for the next time.
func Hover(a *lang.Analysis, offset int, kept *Shown, o checks.Options) (Card, bool) {
	spot, _, ok := at(a, offset)
	if !ok {
		return Card{}, false
	}
	span, ok := a.Document().Locate(spot.Place)
	if !ok {
		return Card{}, false
	}
	text := ""
	if spot.Keyword {
		text = keywordCard(&spot)
	} else {
		text = valueCard(a, &spot, kept, o)
		if lines := marginLines(a, Margins(a, kept, o), offset); lines != "" {
			text = strings.TrimRight(text, "\n") + "\n\n" + lines
		}
	}
	return Card{span, text}, text != ""
}

func keywordCard(s *syntax.Spot) string {
	c := s.Clause()
	if len(s.Chain) == 1 {
		return checks.StatementCard(c.Spec)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "`%s`, a clause of %s\n\n%s\n", c.Spec.Usage(), s.Chain[len(s.Chain)-2].Spec.Word, c.Spec.Sum)
	if len(c.Spec.Clauses) > 0 {
		b.WriteByte('\n')
		checks.ClauseList(&b, c.Spec, "")
	}
	return b.String()
}

func valueCard(a *lang.Analysis, s *syntax.Spot, kept *Shown, o checks.Options) string {
	b := a.Board()
	switch s.Value.Expr.Op {
	case syntax.OpNumber:
		return numberCard(s.Value)
	case syntax.OpCall:
		if f, ok := quantity.FunctionNamed(s.Text); ok {
			return fmt.Sprintf("`%s`: %s.", f.Name, f.Doc)
		}
		return ""
	}
	name, _ := s.Value.Word()
	kind := syntax.VExpr
	if s.Arg != nil {
		kind = s.Arg.Kind
	}
	switch kind {
	case syntax.VNew:
		if word := s.Clause().Spec.Word; len(s.Chain) == 1 {
			return itemCard(b, word, name, kept)
		}
		return pieceCard(b, s, name)
	case syntax.VRef:
		for _, word := range s.Arg.Words {
			if text := itemCard(b, word, name, kept); text != "" {
				return text
			}
		}
	case syntax.VEdge:
		return edgeCard(b, name)
	case syntax.VLayer:
		return layerCard(b, name)
	case syntax.VFace:
		return faceCard(b, name)
	case syntax.VRule:
		if r := rules.All().Named(name); r != nil {
			return checks.RuleCard(r)
		}
	case syntax.VParameter:
		if p, ok := checks.ParameterNamed(name); ok {
			return rules.All().LimitCard(p) + "\n" + inForce(a, p, o.Limits)
		}
	case syntax.VName:
		return nameCard(b, s, name)
	case syntax.VItem:
		if text := acceptedCard(b, name, kept); text != "" {
			return text
		}
		return fmt.Sprintf("`%s`, %s", name, lower(s.Clause().Spec.Sum))
	case syntax.VWord:
		if q := queries.Named(name); q != nil && s.Clause().Spec.Word == "leave" {
			return queryCard(b, q)
		}
		if s.Clause().Spec.Word != "offers" {
			return fmt.Sprintf("`%s`, a word of `%s`: %s", name, s.Clause().Spec.Word, lower(s.Clause().Spec.Sum))
		}
		return offerCard(b, name)
	case syntax.VText, syntax.VDate:
		return textCard(a, s)
	case syntax.VPosition:
		if name == syntax.Middle {
			return "`middle`: half way along the edge."
		}
		return expressionCard(b, name)
	default:
		return expressionCard(b, name)
	}
	return ""
}

// acceptedCard is of what a name in an acceptance stands for; "" where that is nothing.
func acceptedCard(b *board.Board, name string, kept *Shown) string {
	for _, k := range acceptable() {
		if text := itemCard(b, k.Word, name, kept); text != "" {
			return text
		}
		for _, r := range b.Requests() {
			if r.Item() == name {
				return fmt.Sprintf("`%s`: the board asks for %s", name, r.Says)
			}
		}
	}
	if row, ok := rowOf(name); ok {
		return acceptedCard(b, row, kept)
	}
	if name == outlineName && b.Outline() != nil {
		return profileCard(b, b.Outline())
	}
	return ""
}

// outlineName is what findings on the outline are on: it has no name of its own.
const outlineName = "outline"

// nameCard is for a name from outside the text.
func nameCard(b *board.Board, s *syntax.Spot, name string) string {
	if s.Clause().Spec.Word == "net" {
		return netCard(b, name)
	}
	return fmt.Sprintf("`%s`, %s", name, lower(s.Clause().Spec.Sum))
}

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func textCard(a *lang.Analysis, s *syntax.Spot) string {
	if s.Clause().Spec.Word != "use" {
		return s.Clause().Spec.Sum
	}
	path := lang.Resolve(a.Root().Path(), syntax.Unquote(s.Text))
	for _, d := range a.Documents() {
		if d.File().Path() == path {
			return fmt.Sprintf("`%s`, %d statements", path, len(d.Statements()))
		}
	}
	return fmt.Sprintf("`%s`, which could not be read", path)
}

// netCard tells what is of a net: platings and planes by their names, of the
// other kinds how many there are.
func netCard(b *board.Board, name string) string {
	var on []string
	for _, k := range board.Kinds() {
		items := k.OfNet(b, name)
		switch {
		case k.Word == "plating":
			for _, i := range items {
				on = append(on, "plating "+i.Name.Text)
			}
		case k.Word == "plane":
			for _, i := range items {
				if i.Row.Given() {
					on = append(on, "plane "+i.Name.Text)
				} else {
					on = append(on, "a plane on "+i.Name.Text)
				}
			}
		case len(items) > 0:
			on = append(on, wording.Plural(len(items), k.Word))
		}
	}
	if len(on) == 0 {
		return fmt.Sprintf("Net `%s`", name)
	}
	return fmt.Sprintf("Net `%s`: %s", name, strings.Join(on, ", "))
}

// numberCard shows a number with its unit in the other units of its kind.
func numberCard(v *syntax.Value) string {
	var unit *quantity.Unit
	if name := v.Unit(); name != "" {
		unit, _ = quantity.UnitNamed(name)
	}
	q, err := quantity.Parse(v.Token(), unit)
	if err != nil {
		return err.Error()
	}
	return conversions(q)
}

// shownIn are the units that a quantity of each kind is shown in, beside its own.
var shownIn = map[quantity.Dimension][]string{
	quantity.Length:     {"mm", "mil", "µm"},
	quantity.Frequency:  {"MHz", "GHz"},
	quantity.Current:    {"A", "mA"},
	quantity.Resistance: {"mohm", "ohm"},
	quantity.Moment:     {"Nmm", "Nm"},
	quantity.None:       {"%"},
}

func conversions(q quantity.Quantity) string {
	own := q.String()
	parts := []string{"**" + own + "**"}
	for _, name := range shownIn[q.Dim] {
		u, _ := quantity.UnitNamed(name)
		if s := q.As(u).Text(2); s != own && (q.Unit == nil || !q.Unit.Alike(u)) {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, " = ")
}

// expressionCard is for a name in an expression.
func expressionCard(b *board.Board, name string) string {
	for _, l := range b.Lets() {
		if l.Name.Text == name {
			return letCard(l)
		}
	}
	if q, ok := b.Value(name); ok {
		return fmt.Sprintf("`%s`: %s", name, conversions(q))
	}
	return ""
}

func letCard(l *board.Let) string {
	if !l.OK {
		return fmt.Sprintf("`let %s`: it has no value", l.Name.Text)
	}
	return fmt.Sprintf("`let %s`: %s", l.Name.Text, conversions(l.Value))
}

// inForce says which value of a limit holds for the board, and who asks for it.
func inForce(a *lang.Analysis, p *checks.Parameter, limits *checks.Limits) string {
	if limits == nil {
		limits = checks.LimitsFor(a)
	}
	var lines []string
	say := func(what string, l checks.Limit) {
		from := "built in"
		if l.Where != "" {
			from = l.Where
		} else if p.Varies != "" {
			from += "; " + p.Varies
		}
		lines = append(lines, fmt.Sprintf("In force: %s %s, by %s (%s)", what, l.Quantity, l.Who, from))
	}
	if p.Minimum != "" {
		say("at least", limits.Minimum(p.Name))
	}
	if p.Maximum != "" {
		say("at most", limits.Maximum(p.Name))
	}
	return strings.Join(lines, "\n\n") + "\n"
}
