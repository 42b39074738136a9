package checks

import (
	"fmt"
	"strings"

	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

const generated = "<!-- Generated from the program's own tables; see DEVELOPERS.md. -->\n\n"

// LanguageReference is the reference of statements, clauses, units, functions
// and findings about the text, as Markdown.
func LanguageReference() string {
	var b strings.Builder
	b.WriteString(generated + "# The hem language: statements\n\nHow a text reads, and what is decided where a table cannot say it, is in [README.md](README.md).\n\n")
	for _, s := range syntax.Vocabulary() {
		fmt.Fprintf(&b, "## %s\n\n`%s`\n\n%s\n\n", s.Word, s.Usage(), s.Sum)
		ClauseList(&b, s, "")
		for _, group := range s.OneOf {
			fmt.Fprintf(&b, "\nExactly one of %s must stand.\n", strings.Join(quoteAll(group), ", "))
		}
		if len(s.Clauses) > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(fenced(s.Example) + "\n")
	}
	b.WriteString("## Units\n\nA unit is one only right after a number, with or without a space.\n\n| unit | is |\n|---|---|\n")
	for _, u := range quantity.Units() {
		fmt.Fprintf(&b, "| `%s` | %s |\n", u.Name, u.Doc)
	}
	b.WriteString("\n## Functions\n\n| function | gives |\n|---|---|\n")
	for _, f := range quantity.Functions() {
		fmt.Fprintf(&b, "| `%s` | %s |\n", f.Name, f.Doc)
	}
	b.WriteString("\n## Findings about the text itself\n\nTheir category is `language` if not said otherwise.\n\n| finding | says |\n|---|---|\n")
	for _, l := range languageFindings {
		fmt.Fprintf(&b, "| `%s` | %s |\n", l.name, l.finds)
	}
	fmt.Fprintf(&b, "\n## Reserved words\n\n%s\n", strings.Join(quoteAll(syntax.Keywords()), " "))
	return b.String()
}

// RulesReference is the reference of rules and limits, as Markdown.
func (c Catalogue) RulesReference() string {
	var b strings.Builder
	b.WriteString(generated + "# The rules\n\nThe category names the consequence: `unbuildable`, `risky`, `costly`, `tidy`. Limits come from the fabricator in use; where there is none, or it is silent, the built-in value holds and the message says \"common practice\". What is held against what, and by which rule, is in [PAIRS.md](PAIRS.md).\n\n")
	group := ""
	for _, r := range c {
		if r.Group != group {
			group = r.Group
			fmt.Fprintf(&b, "\n| %s | category | fires when |\n|---|---|---|\n", group)
		}
		fmt.Fprintf(&b, "| [`%s`](#%s) | %s | %s |\n", r.Name, r.Name, r.Category, r.Finds)
	}
	b.WriteString("\n## Limits a fabricator may set\n\n| limit | means | built in | source |\n|---|---|---|---|\n")
	for _, p := range Parameters() {
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", p.Name, p.Means, strings.TrimPrefix(p.BuiltIn(), "built in: "), p.Source)
	}
	b.WriteByte('\n')
	for _, r := range c {
		b.WriteString("#" + RuleCard(r) + "\n")
	}
	return b.String()
}
