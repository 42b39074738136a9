// Package highlight writes the editors' highlighting files from the
// vocabulary, so that none of them lists a keyword by hand.
package highlight

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"hemline/lang/quantity"
	"hemline/lang/syntax"
)

// words sorts the keywords: those that begin a statement, and the others.
func words() (statements, clauses []string) {
	for _, k := range syntax.Keywords() {
		if syntax.StatementNamed(k) != nil {
			statements = append(statements, k)
		} else if !slices.Contains(constants(), k) {
			clauses = append(clauses, k)
		}
	}
	return statements, clauses
}

func units() []string {
	var list []string
	for _, u := range quantity.Units() {
		list = append(list, u.Name)
	}
	// Longest first, so that mm is not read as m.
	slices.SortFunc(list, func(a, b string) int {
		if len(a) != len(b) {
			return len(b) - len(a)
		}
		return strings.Compare(a, b)
	})
	return list
}

// unitRegexp matches a unit: a word that does not go on, or a sign.
func unitRegexp() string {
	var spelt, signs []string
	for _, u := range units() {
		if unicode.IsLetter([]rune(u)[0]) {
			spelt = append(spelt, u)
		} else {
			signs = append(signs, u)
		}
	}
	return `(?:(?:` + alternatives(spelt) + `)(?![\p{L}\p{N}_])|` + alternatives(signs) + `)`
}

func functions() []string {
	var list []string
	for _, f := range quantity.Functions() {
		list = append(list, f.Name)
	}
	return list
}

// constants are words with a meaning of their own in the place of a name.
func constants() []string {
	return append([]string{syntax.Middle, syntax.All, syntax.Top, syntax.Bottom}, syntax.Offers...)
}

func alternatives(list []string) string {
	quoted := make([]string, len(list))
	for i, w := range list {
		quoted[i] = regexp.QuoteMeta(w)
	}
	return strings.Join(quoted, "|")
}

// A word ends where no letter, digit, underscore or dot goes on: a dotted
// name is one word, and its parts are never keywords.
const (
	before = `(?<![\p{L}\p{N}_.])`
	after  = `(?![\p{L}\p{N}_])(?!\.[\p{L}\p{N}_])`
)

// TextMate is the grammar for editors that read TextMate's JSON form.
func TextMate() []byte {
	statements, clauses := words()
	pattern := func(name, match string) map[string]any { return map[string]any{"name": name, "match": match} }
	word := func(list []string) string { return before + "(?:" + alternatives(list) + ")" + after }
	grammar := map[string]any{
		"name":      "hem",
		"scopeName": "source.hem",
		"fileTypes": []string{"hem"},
		"comment":   "Generated from the vocabulary; see DEVELOPERS.md.",
		"patterns": []any{
			pattern("comment.line.double-slash.hem", `//.*$`),
			map[string]any{
				"name": "string.quoted.double.hem", "begin": `"`, "end": `"|$`,
				"patterns": []any{pattern("constant.character.escape.hem", `\\["\\]`)},
			},
			map[string]any{
				"match": `([0-9]+(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?)(?:[ \t]*(` + unitRegexp() + `))?`,
				"captures": map[string]any{
					"1": map[string]string{"name": "constant.numeric.hem"},
					"2": map[string]string{"name": "keyword.other.unit.hem"},
				},
			},
			pattern("keyword.control.statement.hem", word(statements)),
			pattern("keyword.other.clause.hem", word(clauses)),
			pattern("support.function.hem", before+"(?:"+alternatives(functions())+`)(?=[ \t]*\()`),
			pattern("constant.language.hem", word(constants())),
			pattern("variable.other.hem", nameRegexp),
			pattern("keyword.operator.hem", `[-+*/=]`),
			pattern("punctuation.separator.hem", `[,;]`),
			pattern("punctuation.section.hem", `[{}()]`),
		},
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(grammar); err != nil {
		panic(err) // the value is ours, made of strings and lists
	}
	return b.Bytes()
}

// Vim is the syntax file for Vim and Neovim.
func Vim() []byte {
	statements, clauses := words()
	var b bytes.Buffer
	b.WriteString("\" Generated from the vocabulary; see DEVELOPERS.md.\n")
	b.WriteString("if exists('b:current_syntax')\n  finish\nendif\n\n\" A dot goes on with a name, whose parts are then no keywords.\nsyntax iskeyword @,48-57,_,.,192-255\n\n")
	fmt.Fprintf(&b, "syntax keyword hemStatement %s\n", strings.Join(statements, " "))
	fmt.Fprintf(&b, "syntax keyword hemClause %s\n", strings.Join(clauses, " "))
	fmt.Fprintf(&b, "syntax keyword hemWord %s\n", strings.Join(constants(), " "))
	fmt.Fprintf(&b, "syntax match hemFunction /\\<\\%%(%s\\)\\ze\\s*(/\n", strings.Join(functions(), `\|`))
	b.WriteString("syntax match hemName /\\<[[:alpha:]_]\\w*\\%(\\.\\w\\+\\)\\+/\n")
	var spelt []string
	for _, u := range units() {
		if unicode.IsLetter([]rune(u)[0]) {
			u += `\k\@!`
		}
		spelt = append(spelt, strings.ReplaceAll(u, "/", `\/`))
	}
	fmt.Fprintf(&b, "syntax match hemNumber /\\<\\d\\+\\%%(\\.\\d\\+\\)\\=\\%%([eE][-+]\\=\\d\\+\\)\\=/ nextgroup=hemUnit skipwhite\n")
	fmt.Fprintf(&b, "syntax match hemUnit /\\%%(%s\\)/ contained\n", strings.Join(spelt, `\|`))
	b.WriteString("syntax match hemOperator /[-+*\\/=]/\n")
	b.WriteString("syntax match hemComment /\\/\\/.*$/ contains=@Spell\n")
	b.WriteString("syntax region hemText start=/\"/ skip=/\\\\[\"\\\\]/ end=/\"/ end=/$/ oneline\n\n")
	for _, link := range [][2]string{
		{"hemStatement", "Statement"}, {"hemClause", "Type"}, {"hemWord", "Constant"}, {"hemFunction", "Function"},
		{"hemName", "Identifier"}, {"hemNumber", "Number"}, {"hemUnit", "Special"}, {"hemOperator", "Operator"},
		{"hemComment", "Comment"}, {"hemText", "String"},
	} {
		fmt.Fprintf(&b, "highlight default link %s %s\n", link[0], link[1])
	}
	b.WriteString("\nlet b:current_syntax = 'hem'\n")
	return b.Bytes()
}
