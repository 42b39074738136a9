package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"sync"
	"unicode/utf8"

	"hemline/checks"
	"hemline/checks/asked"
	"hemline/checks/rules"
	"hemline/checks/ways"
	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// listing is the findings of a run, each once: a used file's own faults show
// up with every board that uses it.
type listing struct {
	files    int
	findings []reported
	accepted []agreed
	asked    []answered
}

// answered is what became of a board's request.
type answered struct {
	asked.Answer
	result
}

func (a answered) agreed() bool { return a.Agreed(a.Answer) != nil }

// agreed is a finding that an acceptance silences.
type agreed struct {
	reported
	because, until string
}

type reported struct {
	finding.Located
	of  result
	out *ways.Answer // the ways out of it; nil where they were not looked for
}

// fix is the finding's own, with what it brings where that was tried; nil for none, and where
// it was tried in vain.
func (f *reported) fix() *ways.Way {
	switch {
	case f.Fix == nil:
		return nil
	case f.out != nil && f.File == f.of.analysis.Root():
		return f.out.Fix
	}
	return &ways.Way{Title: f.Fix.Title}
}

// look looks for the ways out of every finding, several at a time.
func (r *listing) look(ctx context.Context, s *streams) {
	done, stop := s.progress("looked for ways out of", len(r.findings))
	defer stop()
	texts := map[*lang.Analysis]func() *ways.Text{} // each checked once
	for _, f := range r.findings {
		if of := f.of; texts[of.analysis] == nil {
			texts[of.analysis] = sync.OnceValue(func() *ways.Text {
				return ways.Of(of.analysis, rules.All(), ways.Options{Check: checks.Options{Today: of.today, Modes: of.modes, Limits: of.limits}, Read: source.Read, Near: source.Beside})
			})
		}
	}
	each(len(r.findings), func(i int) {
		f := &r.findings[i]
		out := texts[f.of.analysis]().Out(ctx, f.Located)
		f.out = &out
		done()
	})
}

func newListing(results []result) *listing {
	r := &listing{}
	type key struct {
		path, rule, message string
		span                source.Span
	}
	seen := map[key]bool{}
	for _, x := range results {
		if x.err != nil {
			continue
		}
		r.files++
		for _, a := range x.Asked {
			r.asked = append(r.asked, answered{a, x})
		}
		first := func(f finding.Located) bool {
			k := key{f.File.Path(), f.Rule, f.Message, f.Span}
			known := seen[k]
			seen[k] = true
			return !known
		}
		for _, f := range x.Findings {
			if first(f) {
				r.findings = append(r.findings, reported{Located: f, of: x})
			}
		}
		for _, a := range x.Accepted {
			if first(a.Located) {
				r.accepted = append(r.accepted, agreed{reported{Located: a.Located, of: x}, a.By.Because.Text, a.By.Until.Text})
			}
		}
	}
	return r
}

func (r *listing) counts() map[string]int {
	n := map[string]int{}
	for _, name := range finding.Categories() {
		n[name] = 0
	}
	for _, f := range r.findings {
		n[f.Category.String()]++
	}
	return n
}

// Colours by weight; the category's word is there as well, so that nothing is
// said by colour alone.
var colours = map[finding.Category]string{
	finding.Language: "\x1b[1;31m", finding.Unbuildable: "\x1b[1;31m", finding.Risky: "\x1b[1;33m",
	finding.Costly: "\x1b[1;36m", finding.Tidy: "\x1b[1;34m",
}

// text writes findings for people: place, category, sentence and rule, then
// the line with a caret under each character that is meant.
func (r *listing) text(w io.Writer, colour bool) error {
	var b strings.Builder
	paint := func(code, s string) string {
		if !colour {
			return s
		}
		return code + s + "\x1b[0m"
	}
	for _, f := range r.findings {
		at := f.File.Position(f.Span.Start, source.Runes)
		fmt.Fprintf(&b, "%s: %s: %s [%s]\n", spot(f.File, f.Span), paint(colours[f.Category], f.Category.String()), source.Visible(f.Message), f.Rule)
		line := f.File.Slice(f.File.Line(at.Line))
		fmt.Fprintf(&b, "    %s\n    %s\n", source.Visible(line), paint(colours[f.Category], underline(f.File, f.Span)))
		for _, rel := range f.Related {
			if file, span, ok := f.of.analysis.Locate(rel.Place); ok {
				fmt.Fprintf(&b, "    see %s: %s\n", spot(file, span), source.Visible(rel.Message))
			}
		}
		if fix := f.fix(); fix != nil {
			word := "fix"
			if f.Fix.Guess {
				word = "if that is meant"
			}
			fmt.Fprintf(&b, "    %s: %s\n", word, source.Visible(fix.Says()))
		}
		if f.out == nil {
			continue
		}
		for _, w := range f.out.Ways {
			fmt.Fprintf(&b, "    way: %s\n", source.Visible(w.Says()))
		}
		if f.out.Why != "" {
			fmt.Fprintf(&b, "    no sure way: %s\n", source.Visible(f.out.Why))
		}
	}
	for _, a := range r.accepted {
		fmt.Fprintf(&b, "%s: accepted: %s [%s]\n    because: %s%s\n", spot(a.File, a.Span), source.Visible(a.Message), a.Rule, source.Visible(a.because), untilText(a.until))
	}
	b.WriteString(r.summary())
	b.WriteString(r.notVerified())
	_, err := io.WriteString(w, b.String())
	return err
}

func untilText(date string) string {
	if date == "" {
		return ""
	}
	return ", until " + date
}

// spot is FILE:LINE:COLUMN, both from 1, the column in characters.
func spot(f *source.File, s source.Span) string {
	at := f.Position(s.Start, source.Runes)
	return fmt.Sprintf("%s:%d:%d", source.Visible(f.Path()), at.Line+1, at.Column+1)
}

// underline puts carets under a span's first line as it is shown, tabs kept so
// that they stand where the characters do.
func underline(f *source.File, s source.Span) string {
	line := f.Line(f.LineOf(s.Start))
	start := min(max(s.Start, line.Start), line.End)
	end := min(max(s.End, start), line.End)
	before := strings.Map(func(r rune) rune {
		if r == '\t' {
			return r
		}
		return ' '
	}, source.Visible(f.Slice(source.Span{Start: line.Start, End: start})))
	width := utf8.RuneCountInString(source.Visible(f.Slice(source.Span{Start: start, End: end})))
	return before + strings.Repeat("^", max(width, 1))
}

func (r *listing) summary() string {
	if r.files == 0 {
		return "" // none could be checked, which is said elsewhere
	}
	files := fmt.Sprintf("%d files", r.files)
	if r.files == 1 {
		files = "1 file"
	}
	if len(r.accepted) > 0 {
		files += fmt.Sprintf(" (%d accepted)", len(r.accepted))
	}
	if len(r.findings) == 0 {
		return files + " clean\n"
	}
	n := r.counts()
	var parts []string
	for i := len(finding.Categories()) - 1; i >= 0; i-- {
		if name := finding.Category(i).String(); n[name] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n[name], name))
		}
	}
	word := "findings"
	if len(r.findings) == 1 {
		word = "finding"
	}
	return fmt.Sprintf("%d %s in %s: %s\n", len(r.findings), word, files, strings.Join(parts, ", "))
}

// notVerified is the line of what was asked for and not verified; "" where
// nothing was.
func (r *listing) notVerified() string {
	var parts []string
	path := ""
	for _, a := range r.asked {
		if a.Verdict != asked.NotVerified {
			continue
		}
		part := a.Says
		if a.agreed() {
			part += " (accepted)"
		}
		if r.files > 1 && a.path != path {
			part = a.path + ": " + part
		}
		path = a.path
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return ""
	}
	return "asked and not verified: " + source.Visible(strings.Join(parts, "; ")) + "\n"
}

// The JSON form. Lines and columns count from 1, columns in characters (code
// points); the end column is the first one past the range.
type (
	jsonReport struct {
		Findings []jsonFinding  `json:"findings"`
		Accepted []jsonAccepted `json:"accepted"`
		Asked    []jsonAnswer   `json:"asked"`
		Summary  map[string]int `json:"summary"`
	}
	jsonRange struct {
		File      string `json:"file"`
		Line      int    `json:"line"`
		Column    int    `json:"column"`
		EndLine   int    `json:"endLine"`
		EndColumn int    `json:"endColumn"`
	}
	jsonFinding struct {
		Rule     string `json:"rule"`
		Category string `json:"category"`
		jsonRange
		Message string `json:"message"`
		// Items are what the finding is on: one item, or the two it is between.
		Items []string `json:"items"`
		// Accept is the statement that would silence it, its reason to be given;
		// "" where none can.
		Accept  string        `json:"accept"`
		Related []jsonRelated `json:"related"`
		Fixes   []jsonFix     `json:"fixes"`
		// NoFix says why none is sure; "" where one is, and where ways were not looked for.
		NoFix string `json:"noFix"`
	}
	jsonAccepted struct {
		jsonFinding
		Because string `json:"because"`
		Until   string `json:"until"`
	}
	jsonAnswer struct {
		Clause  string `json:"clause"`
		Asked   string `json:"asked"`
		Verdict string `json:"verdict"`
		Why     string `json:"why"`
		// Accepted tells that it is accepted as it is, not being verified.
		Accepted bool `json:"accepted"`
		jsonRange
	}
	jsonRelated struct {
		jsonRange
		Message string `json:"message"`
	}
	jsonFix struct {
		Title string     `json:"title"`
		Sure  bool       `json:"sure"` // surely right; or what is likely meant
		Edits []jsonEdit `json:"edits"`
		// Brings are the rules of the findings that it would bring.
		Brings []string `json:"brings"`
	}
	jsonEdit struct {
		jsonRange
		Text string `json:"text"`
	}
)

func rangeOf(f *source.File, s source.Span) jsonRange {
	a, b := f.Position(s.Start, source.Runes), f.Position(s.End, source.Runes)
	return jsonRange{f.Path(), a.Line + 1, a.Column + 1, b.Line + 1, b.Column + 1}
}

func (r *listing) json(w io.Writer) error {
	out := jsonReport{Findings: []jsonFinding{}, Accepted: []jsonAccepted{}, Asked: []jsonAnswer{}, Summary: r.counts()}
	out.Summary["files"], out.Summary["findings"], out.Summary["accepted"] = r.files, len(r.findings), len(r.accepted)
	for _, f := range r.findings {
		out.Findings = append(out.Findings, f.json())
	}
	for _, a := range r.accepted {
		out.Accepted = append(out.Accepted, jsonAccepted{a.json(), a.because, a.until})
	}
	for _, a := range r.asked {
		if file, span, ok := a.analysis.Locate(a.At); ok {
			out.Asked = append(out.Asked, jsonAnswer{a.Clause, a.Says, a.Verdict.String(), a.Why, a.agreed(), rangeOf(file, span)})
		}
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(out); err != nil {
		return err
	}
	_, err := w.Write(source.VisibleJSON(b.Bytes()))
	return err
}

func (f reported) json() jsonFinding {
	j := jsonFinding{f.Rule, f.Category.String(), rangeOf(f.File, f.Span), f.Message, append([]string{}, f.Items...), checks.Acceptance(&f.Finding), []jsonRelated{}, []jsonFix{}, ""}
	for _, rel := range f.Related {
		if file, span, ok := f.of.analysis.Locate(rel.Place); ok {
			j.Related = append(j.Related, jsonRelated{rangeOf(file, span), rel.Message})
		}
	}
	if own := f.fix(); own != nil {
		fix := jsonFix{Title: own.Title, Sure: !f.Fix.Guess && (len(own.Brings) == 0 || own.Shows), Edits: []jsonEdit{}, Brings: append([]string{}, own.Brings...)}
		for _, e := range f.Fix.Edits {
			if file, span, ok := f.of.analysis.Locate(e.Place); ok {
				fix.Edits = append(fix.Edits, jsonEdit{rangeOf(file, span), e.Text})
			}
		}
		j.Fixes = append(j.Fixes, fix)
	}
	if f.out == nil {
		return j
	}
	j.NoFix = f.out.Why
	root := f.of.analysis.Root()
	for _, w := range f.out.Ways {
		way := jsonFix{Title: w.Title, Brings: append([]string{}, w.Brings...)}
		for _, e := range w.Edits {
			way.Edits = append(way.Edits, jsonEdit{rangeOf(root, e.Span), e.Text})
		}
		j.Fixes = append(j.Fixes, way)
	}
	return j
}
