// Package checks holds the rules: what a fabricator cannot build, what is
// risky, costly or untidy in a board, each with its document and its limits.
package checks

import (
	"hemline/lang"
	"hemline/lang/finding"
)

// Run applies every rule to an analysed board and returns its findings
// together with those of the text itself, located and sorted.
func Run(a *lang.Analysis) []finding.Located { return nil }
