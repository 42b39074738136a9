package lsp

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"sync"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/source"
	"hemline/lsp/assist"
)

// toy is an engine for tests of the server alone, without a language. Words
// have meaning wherever they stand in a text:
//
//	bad loose dear idle   a finding of each category; bad is related to every why
//	use "path"            brings in another text, with its findings
//	let NAME              states a name, a symbol, the target of NAME elsewhere
//	wait                  the analysis stops until the gate is opened
//	boom                  the analysis panics; hovering over crash does, too
//
// The formatter takes spaces from the ends of lines.
type toy struct {
	gate    chan struct{} // closed, or receives once for each analysis let through
	waiting chan struct{} // is sent one for each analysis that has come to the gate

	mu       sync.Mutex
	texts    map[*lang.Analysis][]*source.File
	analysed []string // root texts, in order
	reused   int      // analyses that were given an earlier one
}

func newToy() *toy {
	return &toy{gate: make(chan struct{}), waiting: make(chan struct{}, 100), texts: map[*lang.Analysis][]*source.File{}}
}

func (t *toy) engine() Engine {
	return Engine{
		Analyze: t.analyze, Files: t.paths, Locate: t.locate, Check: t.check,
		Hover: t.hover, Definition: t.definition, Symbols: t.symbols, Format: t.format,
	}
}

var (
	toyUse  = regexp.MustCompile(`use "([^"]*)"`)
	toyBad  = regexp.MustCompile(`\b(bad|loose|dear|idle)\b`)
	toyWord = regexp.MustCompile(`\p{L}+`)
	toyLet  = regexp.MustCompile(`let (\p{L}+)`)
	toyWhy  = regexp.MustCompile(`\bwhy\b`)
	toyEnd  = regexp.MustCompile(`(?m) +$`)
)

func (t *toy) analyze(root *source.File, read lang.Reader, prev *lang.Analysis) *lang.Analysis {
	t.mu.Lock()
	t.analysed = append(t.analysed, root.Text())
	if prev != nil {
		t.reused++
	}
	t.mu.Unlock()
	if strings.Contains(root.Text(), "wait") {
		t.waiting <- struct{}{}
		<-t.gate
	}
	if strings.Contains(root.Text(), "boom") {
		panic("boom")
	}
	files := []*source.File{root}
	for _, m := range toyUse.FindAllStringSubmatch(root.Text(), -1) {
		if file, err := read(filepath.Join(filepath.Dir(root.Path()), m[1])); err == nil {
			files = append(files, file)
		}
	}
	a := new(lang.Analysis)
	t.mu.Lock()
	defer t.mu.Unlock()
	t.texts[a] = files
	return a
}

func (t *toy) files(a *lang.Analysis) []*source.File {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.texts[a]
}

func (t *toy) root(a *lang.Analysis) *source.File { return t.files(a)[0] }

func (t *toy) paths(a *lang.Analysis) (paths []string) {
	for _, file := range t.files(a) {
		paths = append(paths, file.Path())
	}
	return paths
}

// locate knows places whose anchor is the beginning of a file.
func (t *toy) locate(a *lang.Analysis, p source.Place) (*source.File, source.Span, bool) {
	for _, file := range t.files(a) {
		if p.Anchor != nil && file.Path() == p.Anchor.Path {
			return file, source.Span{Start: int(p.Start), End: int(p.End)}, true
		}
	}
	return nil, source.Span{}, false
}

func (t *toy) check(a *lang.Analysis, _ checks.Options) checks.Outcome {
	var list []finding.Located
	var related []finding.Related
	for _, file := range t.files(a) {
		for _, at := range toyWhy.FindAllStringIndex(file.Text(), -1) {
			place := source.Place{Anchor: &source.Anchor{Path: file.Path()}, Start: int32(at[0]), End: int32(at[1])}
			related = append(related, finding.Related{Place: place, Message: "because of this"})
		}
	}
	for _, file := range t.files(a) {
		for _, at := range toyBad.FindAllStringIndex(file.Text(), -1) {
			f := finding.Finding{Rule: "toy_bad", Category: finding.Language}
			switch word := file.Text()[at[0]:at[1]]; word {
			case "loose":
				f = finding.Finding{Rule: "toy_loose", Category: finding.Risky}
			case "dear":
				f = finding.Finding{Rule: "toy_dear", Category: finding.Costly}
			case "idle":
				f = finding.Finding{Rule: "gap_idle", Category: finding.Tidy}
			default:
				f.Related = related
			}
			f.Message = fmt.Sprintf("found %s", file.Text()[at[0]:at[1]])
			list = append(list, finding.Located{Finding: f, File: file, Span: source.Span{Start: at[0], End: at[1]}})
		}
	}
	return checks.Outcome{Findings: list}
}

func (t *toy) hover(a *lang.Analysis, offset int, _ *assist.Shown, _ checks.Options) (assist.Card, bool) {
	text := t.root(a).Text()
	for _, at := range toyWord.FindAllStringIndex(text, -1) {
		if at[0] <= offset && offset <= at[1] {
			if text[at[0]:at[1]] == "crash" {
				panic("crash")
			}
			return assist.Card{Span: source.Span{Start: at[0], End: at[1]}, Markdown: "**" + text[at[0]:at[1]] + "** is a `word`"}, true
		}
	}
	return assist.Card{}, false
}

func (t *toy) definition(a *lang.Analysis, offset int) (assist.Target, bool) {
	text := t.root(a).Text()
	for _, at := range toyWord.FindAllStringIndex(text, -1) {
		if at[0] > offset || offset > at[1] {
			continue
		}
		for _, file := range t.files(a) {
			for _, let := range toyLet.FindAllStringSubmatchIndex(file.Text(), -1) {
				if file.Text()[let[2]:let[3]] == text[at[0]:at[1]] {
					return assist.Target{File: file, Span: source.Span{Start: let[2], End: let[3]}, Full: source.Span{Start: let[0], End: let[1]}}, true
				}
			}
		}
	}
	return assist.Target{}, false
}

func (t *toy) symbols(a *lang.Analysis) (list []assist.Symbol) {
	file := t.root(a)
	for _, let := range toyLet.FindAllStringSubmatchIndex(file.Text(), -1) {
		name := source.Span{Start: let[2], End: let[3]}
		list = append(list, assist.Symbol{
			Name: file.Slice(name), Kind: "let", Symbol: board.SymbolConstant, Detail: "a name", NameSpan: name, Full: source.Span{Start: let[0], End: let[1]},
			Children: []assist.Symbol{{Kind: "tail", Symbol: board.SymbolObject, NameSpan: name, Full: source.Span{Start: let[3] - 1, End: let[3]}}},
		})
	}
	return list
}

func (t *toy) format(a *lang.Analysis) (edits []source.Edit) {
	for _, at := range toyEnd.FindAllStringIndex(t.root(a).Text(), -1) {
		edits = append(edits, source.Edit{Span: source.Span{Start: at[0], End: at[1]}})
	}
	return edits
}
