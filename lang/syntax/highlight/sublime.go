package highlight

import (
	"fmt"
	"strings"
)

// Sublime is the syntax definition for Sublime Text. Its scopes are those of
// the TextMate grammar.
func Sublime() []byte {
	statements, clauses := words()
	var b strings.Builder
	b.WriteString("%YAML 1.2\n---\n# Generated from the vocabulary; see DEVELOPERS.md.\n" +
		"name: hem\nscope: source.hem\nversion: 2\nfile_extensions:\n  - hem\n\ncontexts:\n  main:\n")
	// In YAML a text in single quotes is as it stands, but for the quote itself.
	match := func(pattern, rest string) {
		fmt.Fprintf(&b, "    - match: '%s'\n      %s\n", strings.ReplaceAll(pattern, "'", "''"), rest)
	}
	word := func(list []string) string { return before + "(?:" + alternatives(list) + ")" + after }
	match(`//`, "scope: punctuation.definition.comment.hem\n      push: comment")
	match(`"`, "scope: punctuation.definition.string.begin.hem\n      push: text")
	match(`([0-9]+(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?)(?:[ \t]*(`+unitRegexp()+`))?`,
		"captures:\n        1: constant.numeric.hem\n        2: keyword.other.unit.hem")
	match(word(statements), "scope: keyword.control.statement.hem")
	match(word(clauses), "scope: keyword.other.clause.hem")
	match(before+"(?:"+alternatives(functions())+`)(?=[ \t]*\()`, "scope: support.function.hem")
	match(word(constants()), "scope: constant.language.hem")
	match(nameRegexp, "scope: variable.other.hem")
	match(`[-+*/=]`, "scope: keyword.operator.hem")
	match(`[,;]`, "scope: punctuation.separator.hem")
	match(`[{}()]`, "scope: punctuation.section.hem")
	b.WriteString("\n  comment:\n    - meta_scope: comment.line.double-slash.hem\n    - match: '$'\n      pop: true\n" +
		"\n  text:\n    - meta_scope: string.quoted.double.hem\n    - match: '\\\\[\"\\\\]'\n      scope: constant.character.escape.hem\n" +
		"    - match: '\"|$'\n      pop: true\n")
	return []byte(b.String())
}
