package report

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"hemline/lang/emit/wording"
	"hemline/lang/finding"
)

// JSON writes the report as one object. A figure that does not apply has the
// value null and a note.
func (r *Report) JSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(r)
}

// Show is a figure as people read it: three significant digits and its unit, as a
// bound or with the range that it lies in.
func (f Figure) Show() string {
	if f.Value == nil {
		return "does not apply: " + f.Note
	}
	unit := ""
	if f.Unit != "" {
		unit = " " + f.Unit
	}
	s := number(*f.Value) + unit
	if f.Bound != "" {
		s = f.Bound + " " + s
	}
	if f.Least != nil && f.Most != nil {
		s += ", between " + number(*f.Least) + " and " + number(*f.Most) + unit
	}
	if f.Worst != nil {
		s += ", at worst " + number(*f.Worst) + unit
	}
	return s
}

// Line is a figure with its name and, where it has a value, its note.
func (f Figure) Line() string {
	s := f.Name + ": " + f.Show()
	if f.Value != nil && f.Note != "" {
		s += " (" + f.Note + ")"
	}
	return s
}

func number(v float64) string {
	s := strconv.FormatFloat(v, 'g', 4, 64)
	if strings.ContainsAny(s, "e") {
		s = strconv.FormatFloat(v, 'f', -1, 64)
		if v >= 1e4 {
			s = strconv.FormatFloat(v, 'f', 0, 64)
		}
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// Text writes the report for a terminal.
func (r *Report) Text(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\nlimits: %s\nfindings: %s\n", r.File, r.Shop, r.findings())
	item := func(i Item) {
		fmt.Fprintf(&b, "\n%s %s\n", i.Kind, i.Name)
		width := 0
		for _, f := range i.Figures {
			width = max(width, utf8.RuneCountInString(f.Name))
		}
		for _, f := range i.Figures {
			line := f.Show()
			if f.Value != nil && f.Note != "" {
				line += "  (" + f.Note + ")"
			}
			fmt.Fprintf(&b, "  %s%s  %s\n", f.Name, strings.Repeat(" ", width-utf8.RuneCountInString(f.Name)), line)
		}
	}
	item(r.Board)
	for i, a := range r.Asked {
		if i == 0 {
			b.WriteString("\nwhat the board asks for\n")
		}
		fmt.Fprintf(&b, "  %s: %s: %s%s\n", a.Asked, a.Verdict, a.Why, a.agreed())
	}
	if len(r.Openings) > 0 {
		b.WriteString("\nopenings, what leaks most first\n")
		longest := r.Openings[0].Worst.Length
		for _, o := range r.Openings {
			fmt.Fprintf(&b, "  %s %8s mm  %s%s  %s\n", bar(o.Worst.Length/longest), number(o.Length), pad(o.name(), 12), pad(o.share(), 26), o.Where)
			if o.Worst.By != "" {
				fmt.Fprintf(&b, "    at worst %8s mm  %s%s  with %s\n", number(o.Worst.Length), pad("", 12), pad(share(o.Worst.Share, o.Worst.Holds), 26), o.Worst.By)
			}
		}
	}
	for i, c := range r.Cavities {
		if i == 0 {
			b.WriteString("\nmodes of the planes\n")
		}
		fmt.Fprintf(&b, "  %s  %s  %s\n", pad(c.Pair, 20), pad(c.edge(), 28), c.row())
	}
	for _, i := range r.Items {
		item(i)
	}
	for i, a := range r.Accepted {
		if i == 0 {
			b.WriteString("\naccepted\n")
		}
		fmt.Fprintf(&b, "  %s on %s: %s (because: %s%s)\n", a.Rule, finding.Parties(a.Items), a.Message, a.Because, until(a.Until))
	}
	for i, l := range r.Left {
		if i == 0 {
			b.WriteString("\nleft to the shop\n")
		}
		fmt.Fprintf(&b, "  %s (because: %s)\n", l.what(), l.Because)
	}
	fmt.Fprintf(&b, "\n%s\n", r.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

// what names what is left, and on which edges.
func (l Left) what() string {
	s := strings.Join(l.Queries, " ")
	if len(l.Along) > 0 {
		s += ", along " + strings.Join(l.Along, " ")
	}
	return s
}

// agreed says that it is accepted that something is not verified, and why.
func (a Asked) agreed() string {
	if a.Accepted == "" {
		return ""
	}
	return " (accepted because: " + a.Accepted + ")"
}

func until(date string) string {
	if date == "" {
		return ""
	}
	return ", until " + date
}

func pad(s string, n int) string { return s + strings.Repeat(" ", max(1, n-utf8.RuneCountInString(s))) }

// bar is a share of the longest opening in tenths.
func bar(share float64) string {
	n := min(max(int(share*10+0.5), 1), 10)
	return strings.Repeat("█", n) + strings.Repeat("·", 10-n)
}

func (o Opening) name() string {
	switch {
	case o.Gap != "":
		return o.Gap
	case o.OpenedBy != "":
		return o.OpenedBy
	case o.Tab != "":
		return "root of " + o.Tab
	}
	return "not plated"
}

func (o Opening) share() string {
	if o.Length == 0 {
		return "closed as drawn"
	}
	return share(o.Share, o.Holds)
}

// share is a share of the wavelength and what is held back there.
func share(of, holds *float64) string {
	if of == nil {
		return ""
	}
	s := number(*of) + " % of λ"
	if holds != nil {
		s += fmt.Sprintf(", holds %s dB", number(*holds))
	}
	return s
}

// worst is an opening at worst, for a table: its length, share and what makes it.
func (o Opening) worst() string {
	if o.Worst.By == "" {
		return "as drawn"
	}
	s := number(o.Worst.Length) + " mm"
	if of := share(o.Worst.Share, o.Worst.Holds); of != "" {
		s += ", " + of
	}
	return s + ", with " + o.Worst.By
}

func (r *Report) findings() string {
	var parts []string
	for _, c := range []string{"language", "unbuildable", "risky", "costly", "tidy"} {
		if n := r.Findings[c]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, c))
		}
	}
	if len(parts) == 0 {
		parts = []string{"none"}
	}
	s := strings.Join(parts, ", ")
	if n := len(r.Accepted); n > 0 {
		s += fmt.Sprintf("; %d accepted", n)
	}
	return s
}

// Markdown writes the report for a pull request.
func (r *Report) Markdown(w io.Writer) error {
	var b strings.Builder
	cell := wording.Markdown
	fmt.Fprintf(&b, "# %s\n\nLimits: %s. Findings: %s.\n", cell(r.File), cell(r.Shop), r.findings())
	item := func(i Item) {
		fmt.Fprintf(&b, "\n## %s %s\n\n| figure | value | |\n|---|---|---|\n", i.Kind, cell(i.Name))
		for _, f := range i.Figures {
			note := ""
			if f.Value != nil {
				note = f.Note
			}
			fmt.Fprintf(&b, "| %s | %s | %s |\n", cell(f.Name), cell(f.Show()), cell(note))
		}
	}
	item(r.Board)
	if len(r.Asked) > 0 {
		b.WriteString("\n## what the board asks for\n\n| asked | verdict | why |\n|---|---|---|\n")
		for _, a := range r.Asked {
			fmt.Fprintf(&b, "| %s | %s | %s |\n", cell(a.Asked), cell(a.Verdict), cell(a.Why+a.agreed()))
		}
	}
	if len(r.Openings) > 0 {
		b.WriteString("\n## openings, what leaks most first\n\n| opening | where | length | | at worst | |\n|---|---|---|---|---|---|\n")
		for _, o := range r.Openings {
			fmt.Fprintf(&b, "| %s | %s | %s mm | %s | %s | `%s` |\n", cell(o.name()), cell(o.Where), number(o.Length), cell(o.share()), cell(o.worst()), bar(o.Worst.Length/r.Openings[0].Worst.Length))
		}
	}
	if len(r.Cavities) > 0 {
		b.WriteString("\n## modes of the planes\n\n| planes | nets | permittivity | edge | modes |\n|---|---|---|---|---|\n")
		for _, c := range r.Cavities {
			fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", cell(c.Pair), cell(c.nets()), number(c.Permittivity), cell(c.edge()), cell(c.row()))
		}
	}
	for _, i := range r.Items {
		item(i)
	}
	if len(r.Accepted) > 0 {
		b.WriteString("\n## accepted\n\n| rule | on | because | until | finding |\n|---|---|---|---|---|\n")
		for _, a := range r.Accepted {
			fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", cell(a.Rule), cell(finding.Parties(a.Items)), cell(a.Because), a.Until, cell(a.Message))
		}
	}
	if len(r.Left) > 0 {
		b.WriteString("\n## left to the shop\n\n| queries | because |\n|---|---|\n")
		for _, l := range r.Left {
			fmt.Fprintf(&b, "| %s | %s |\n", cell(l.what()), cell(l.Because))
		}
	}
	fmt.Fprintf(&b, "\n%s\n", r.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}
