package highlight

import (
	"fmt"
	"strings"
)

// Emacs is the file of word lists that the major mode reads.
func Emacs() []byte {
	statements, clauses := words()
	var b strings.Builder
	b.WriteString(";;; hemline-words.el --- The words of the hem language  -*- lexical-binding: t; -*-\n\n" +
		";; SPDX-License-Identifier: Apache-2.0\n\n;;; Commentary:\n\n" +
		";; Generated from the vocabulary; see DEVELOPERS.md.\n\n;;; Code:\n")
	for _, list := range []struct {
		name, doc string
		words     []string
	}{
		{"statements", "Words that begin a statement.", statements},
		{"clauses", "Words that begin a clause or stand inside one.", clauses},
		{"constants", "Words with a meaning of their own in the place of a name.", constants()},
		{"functions", "Functions of expressions.", functions()},
		{"units", "Units, each read after a number alone.", units()},
	} {
		fmt.Fprintf(&b, "\n(defconst hemline-words-%s\n  '(", list.name)
		column := len("  '(")
		for i, w := range list.words {
			quoted := fmt.Sprintf("%q", w)
			switch {
			case i == 0:
			case column+len(quoted) > 76:
				b.WriteString("\n    ")
				column = 4
			default:
				b.WriteByte(' ')
				column++
			}
			b.WriteString(quoted)
			column += len(quoted)
		}
		fmt.Fprintf(&b, ")\n  %q)\n", list.doc)
	}
	b.WriteString("\n(provide 'hemline-words)\n;;; hemline-words.el ends here\n")
	return []byte(b.String())
}
