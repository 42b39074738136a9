package lsp

import (
	"regexp"
	"strings"
)

var (
	heading  = regexp.MustCompile(`^#{1,6} +`)
	rule     = regexp.MustCompile(`^(-{3,}|\|?( *:?-{3,}:? *\|)+ *(:?-{3,}:?)? *)$`)
	emphasis = regexp.MustCompile("\\*\\*(.+?)\\*\\*|`([^`]*)`")
	link     = regexp.MustCompile(`\[([^\]]*)\]\([^)]*\)`)
)

// plainText takes the marks out of the small part of Markdown that cards are
// written in: headings, emphasis, code, links, rules, tables and fences.
func plainText(markdown string) string {
	var out []string
	fenced := false
	for line := range strings.SplitSeq(markdown, "\n") {
		if strings.HasPrefix(strings.TrimSpace(line), "```") {
			fenced = !fenced
			continue
		}
		if !fenced {
			if rule.MatchString(strings.TrimSpace(line)) {
				continue
			}
			line = heading.ReplaceAllString(line, "")
			line = link.ReplaceAllString(line, "$1")
			line = emphasis.ReplaceAllString(line, "$1$2")
			if row, ok := strings.CutPrefix(strings.TrimSpace(line), "|"); ok {
				cells := strings.Split(strings.TrimSuffix(row, "|"), "|")
				for i := range cells {
					cells[i] = strings.TrimSpace(cells[i])
				}
				line = strings.Join(cells, "  ")
			}
		}
		out = append(out, line)
	}
	return strings.TrimSpace(strings.Join(out, "\n"))
}
