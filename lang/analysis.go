// Package lang is the front door of the language: text in, tree, model and
// findings about the text itself out.
package lang

import (
	"hemline/lang/finding"
	"hemline/lang/source"
)

// Reader brings the text of a file that a `use` statement names. The path is
// as Analyze resolved it: relative to the folder of the file that uses it. An
// editor's reader hands out unsaved text before what is on disk.
type Reader func(path string) (*source.File, error)

// Analysis is everything known of one version of one root text and the files
// it uses. It is immutable and safe for concurrent reading.
type Analysis struct {
	root *source.File
}

// Analyze reads a text. What it can reuse of prev (the analysis of an earlier
// version of the same root, or nil) it reuses; the result is the same as without.
func Analyze(root *source.File, read Reader, prev *Analysis) *Analysis {
	return &Analysis{root: root}
}

// Root is the text that was analysed.
func (a *Analysis) Root() *source.File { return a.root }

// Files lists the paths of every file that took part, the root first.
func (a *Analysis) Files() []string { return []string{a.root.Path()} }

// Findings are the syntax and meaning findings of the text.
func (a *Analysis) Findings() []finding.Finding { return nil }

// Locate tells where a place stands in this version; ok is false for a place
// that is nowhere or belongs to another version.
func (a *Analysis) Locate(p source.Place) (file *source.File, span source.Span, ok bool) {
	return nil, source.Span{}, false
}
