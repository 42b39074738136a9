package checks

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/emit/queries"
	"hemline/lang/emit/wording"
	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

// Explain is all that is known of a rule, a limit, a keyword, a unit or a
// function, as Markdown. A name may be more than one of these; all of them are
// told. ok is false for a name that is none, and the text then says which was
// likely meant.
func (c Catalogue) Explain(name string) (text string, ok bool) {
	var parts []string
	if r := c.Named(name); r != nil {
		parts = append(parts, RuleCard(r))
	}
	if l := languageFinding(name); l != "" {
		parts = append(parts, fmt.Sprintf("# %s\n\nA finding about the text itself, category `language` if not said otherwise.\n\n%s\n", name, l))
	}
	if p, found := ParameterNamed(name); found {
		parts = append(parts, c.LimitCard(p))
	}
	if s := syntax.StatementNamed(name); s != nil {
		parts = append(parts, StatementCard(s))
	} else if syntax.IsKeyword(name) {
		parts = append(parts, clauseCards(name))
	}
	if u, found := quantity.UnitNamed(name); found {
		parts = append(parts, fmt.Sprintf("# %s\n\nA unit, right after a number: %s. It measures %s.\n", u.Name, u.Doc, u.Dim))
	}
	if f, found := quantity.FunctionNamed(name); found {
		parts = append(parts, fmt.Sprintf("# %s\n\nA function in expressions: %s.\n", f.Name, f.Doc))
	}
	if q := queries.Named(name); q != nil {
		parts = append(parts, fmt.Sprintf("# %s\n\nWhat a shop asks, if %s: %s\n\nAnswered by %s; `leave %s to shop because \"…\"` leaves it to the shop.\n", q.Name, q.When, q.Question, q.By, q.Name))
	} else if text := wordCard(name); text != "" {
		parts = append(parts, text)
	}
	if len(parts) > 0 {
		return strings.Join(parts, "\n"), true
	}
	for _, now := range []string{renamed[name], syntax.Renamed(name)} {
		if now != "" {
			text, _ := c.Explain(now)
			return fmt.Sprintf("%s is now written %s.\n\n%s", name, now, text), true
		}
	}
	now, told := syntax.Elsewhere(name)
	if len(now) > 0 {
		return fmt.Sprintf("nothing is called %s here; did you mean %s?", name, strings.Join(now, " or ")), false
	}
	if near, found := syntax.Nearest(name, c.Topics()); found && !told && len(name) > 3 {
		return fmt.Sprintf("nothing is known of %q; did you mean %s?", name, near), false
	}
	return fmt.Sprintf("nothing is known of %q; `hemline explain` lists what is", name), false
}

// Topics are the names that Explain knows, sorted: rules, limits, keywords, units
// of letters, functions, words that values may be.
func (c Catalogue) Topics() []string {
	known := append(c.Names(), parameterNames()...)
	known = append(append(known, syntax.Keywords()...), takenWords()...)
	for _, l := range languageFindings {
		known = append(known, l.name)
	}
	for _, u := range quantity.Units() {
		if u.Name != "%" {
			known = append(known, u.Name)
		}
	}
	for _, f := range quantity.Functions() {
		known = append(known, f.Name)
	}
	slices.Sort(known)
	return slices.Compact(known)
}

// Index lists every rule, limit and statement with a line each.
func (c Catalogue) Index() string {
	var b strings.Builder
	group := ""
	for _, r := range c {
		if r.Group != group {
			group = r.Group
			fmt.Fprintf(&b, "\nRules: %s\n", group)
		}
		fmt.Fprintf(&b, "  %-22s %-12s %s\n", r.Name, r.Category, r.Finds)
	}
	b.WriteString("\nFindings about the text itself\n")
	for _, l := range languageFindings {
		fmt.Fprintf(&b, "  %-22s %s\n", l.name, l.finds)
	}
	b.WriteString("\nLimits a fabricator may set\n")
	for _, p := range Parameters() {
		fmt.Fprintf(&b, "  %-22s %s (%s)\n", p.Name, p.Means, p.BuiltIn())
	}
	b.WriteString("\nStatements\n")
	for _, s := range syntax.Vocabulary() {
		fmt.Fprintf(&b, "  %-22s %s\n", s.Usage(), s.Sum)
	}
	return strings.TrimPrefix(b.String(), "\n")
}

// RuleCard is a rule's document.
func RuleCard(r *Rule) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\nA rule on %s, category `%s`.\n\n%s\n\n%s\n", r.Name, r.Group, r.Category, r.Finds, r.Why)
	if r.NoWay != "" {
		fmt.Fprintf(&b, "\nNo way out of it is offered: %s.\n", r.NoWay)
	}
	if len(r.Limits) > 0 {
		b.WriteString("\nLimits it reads:\n\n")
		for _, name := range r.Limits {
			if p, ok := ParameterNamed(name); ok {
				fmt.Fprintf(&b, "- `%s`: %s (%s)\n", p.Name, p.Means, p.BuiltIn())
			}
		}
	}
	fmt.Fprintf(&b, "\nSource: %s.\n", strings.TrimSuffix(r.Source, "."))
	if r.Group == GroupPhysics {
		fmt.Fprintf(&b, "\n%s\n", wording.Caution)
	}
	fmt.Fprintf(&b, "\nIt fires on:\n\n%s\nIt is silent on:\n\n%s", fenced(r.Bad), fenced(r.Good))
	return b.String()
}

func fenced(text string) string { return "```hem\n" + strings.TrimRight(text, "\n") + "\n```\n" }

// BuiltIn says the built-in values of a limit: "built in: at least 0.5 mm".
func (p *Parameter) BuiltIn() string {
	var sides []string
	if p.Minimum != "" {
		sides = append(sides, "at least "+p.Minimum)
	}
	if p.Maximum != "" {
		sides = append(sides, "at most "+p.Maximum)
	}
	said := "built in: " + strings.Join(sides, ", ")
	if p.Varies != "" {
		said += "; " + p.Varies
	}
	return said
}

// LimitCard is a limit's document, with the rules that read it, as Markdown.
func (c Catalogue) LimitCard(p *Parameter) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# limit %s\n\n%s. It is %s; %s.\n", p.Name, upperFirst(p.Means), p.Dim, p.BuiltIn())
	fmt.Fprintf(&b, "\nSource of the built-in value: %s. It holds where no fabricator is in use or the fabricator is silent.\n", p.Source)
	var readers []string
	for _, r := range c {
		for _, l := range r.Limits {
			if l == p.Name {
				readers = append(readers, "`"+r.Name+"`")
			}
		}
	}
	if len(readers) > 0 {
		fmt.Fprintf(&b, "\nRead by: %s.\n", strings.Join(readers, ", "))
	}
	side, value := "minimum", p.Minimum
	if value == "" {
		side, value = "maximum", p.Maximum
	}
	fmt.Fprintf(&b, "\n%s", fenced(fmt.Sprintf("fabricator shop {\n  limit %s %s %s because \"their word\"\n}", p.Name, side, value)))
	return b.String()
}

// StatementCard is what a statement says and takes, as Markdown.
func StatementCard(s *syntax.Spec) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\n%s\n\n", s.Usage(), s.Sum)
	ClauseList(&b, s, "")
	for _, group := range s.OneOf {
		fmt.Fprintf(&b, "\nExactly one of %s must stand.\n", strings.Join(quoteAll(group), ", "))
	}
	fmt.Fprintf(&b, "\n%s", fenced(s.Example))
	return b.String()
}

func quoteAll(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = "`" + w + "`"
	}
	return out
}

// ClauseList writes the clauses that a statement or clause takes, a line each.
func ClauseList(b *strings.Builder, s *syntax.Spec, indent string) {
	for _, c := range s.Clauses {
		var marks []string
		if c.Required {
			marks = append(marks, "required")
		}
		if c.Repeat {
			marks = append(marks, "repeatable")
		}
		note := ""
		if len(marks) > 0 {
			note = " (" + strings.Join(marks, ", ") + ")"
		}
		fmt.Fprintf(b, "%s- `%s`%s: %s\n", indent, c.Usage(), note, c.Sum)
	}
}

// clauseCards tells what a keyword says in each statement that takes it.
func clauseCards(word string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\nA clause.\n\n", word)
	var walk func(s *syntax.Spec, of string)
	walk = func(s *syntax.Spec, of string) {
		for _, c := range s.Clauses {
			if c.Word == word && of != "typical" {
				fmt.Fprintf(&b, "- of %s: `%s`: %s\n", of, c.Usage(), c.Sum)
			}
			if s.Word != "typical" && c.Word != "no" {
				walk(c, of+" "+c.Word)
			}
		}
	}
	for _, s := range syntax.Vocabulary() {
		walk(s, s.Word)
	}
	return b.String()
}

// ownNames are words that stand for something of their own in the place of a name.
var ownNames = map[string]string{
	syntax.Middle: "A position: half way along the edge. It may stand in an expression: `at middle - 1 mm`.",
	"south":       "An edge of a rectangle, the side of least y; of a cutout `NAME.south`. Positions run from its west end.",
	"north":       "An edge of a rectangle, the side of greatest y; of a cutout `NAME.north`. Positions run from its west end.",
	"east":        "An edge of a rectangle, the side of greatest x; of a cutout `NAME.east`. Positions run from its south end.",
	"west":        "An edge of a rectangle, the side of least x; of a cutout `NAME.west`. Positions run from its south end.",
	"rim":         "The one edge of a circle; of a cutout that is a circle or a slot `NAME.rim`. Positions run counterclockwise.",
}

// takenWords lists the words that a value may be.
func takenWords() (list []string) {
	eachWord(func(word, _ string, _ *syntax.Spec) { list = append(list, word) })
	for word := range ownNames {
		list = append(list, word)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// eachWord calls visit with every word that a value of a clause may be, and where.
func eachWord(visit func(word, of string, s *syntax.Spec)) {
	var walk func(s *syntax.Spec, of string)
	walk = func(s *syntax.Spec, of string) {
		for _, a := range s.Args {
			switch a.Kind {
			case syntax.VWord, syntax.VEdge, syntax.VLayer, syntax.VText:
				for _, w := range a.Words {
					visit(w, of, s)
				}
			case syntax.VFace:
				visit(syntax.Top, of, s)
				visit(syntax.Bottom, of, s)
			}
		}
		for _, c := range s.Clauses {
			if s.Word != "typical" && c.Word != "no" {
				walk(c, of+" "+c.Word)
			}
		}
	}
	for _, s := range syntax.Vocabulary() {
		walk(s, s.Word)
	}
}

// wordCard tells of a word that a value may be; "" for one that none may.
func wordCard(word string) string {
	var b strings.Builder
	if own := ownNames[word]; own != "" {
		fmt.Fprintf(&b, "%s\n", own)
	}
	n := 0
	eachWord(func(w, of string, s *syntax.Spec) {
		if w != word {
			return
		}
		if n++; n == 1 {
			b.WriteString("A word that may stand in\n\n")
		}
		fmt.Fprintf(&b, "- `%s`: %s\n", of, s.Sum)
	})
	if b.Len() == 0 {
		return ""
	}
	return fmt.Sprintf("# %s\n\n%s", word, b.String())
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// languageFindings are the findings about a text itself, which no rule makes.
var languageFindings = []struct{ name, finds string }{
	{"syntax", "The text does not read as statements and clauses."},
	{"unknown_keyword", "A statement or clause begins with an unknown word."},
	{"missing_clause", "A statement lacks a clause that it needs."},
	{"repeated_clause", "A clause stands twice, or two stand that exclude each other."},
	{"wrong_value", "A value is not of the kind or dimension that its clause takes, or has none."},
	{"unknown_name", "A name refers to nothing."},
	{"duplicate_name", "A name, or a statement that may stand once, stands twice."},
	{"circle", "Values need each other in a circle."},
	{"off_edge", "A stretch or position leaves its edge."},
	{"too_many", "A row holds more items than are read."},
	{"use", "A used file cannot be read, or files use each other in a circle."},
	{"too_large", "The text is longer than is read."},
	{"empty", "The text states nothing."},
	{"encoding", "The text is not UTF-8."},
	{"text_hidden", "A line holds characters that nobody sees: controls, marks that turn the direction of what is written, what takes no room. Category `risky`: it may read otherwise than it shows."},
}

func languageFinding(name string) string {
	for _, l := range languageFindings {
		if l.name == name {
			return l.finds
		}
	}
	return ""
}
