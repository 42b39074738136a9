package report

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"hemline/lang/emit/wording"
)

// JSON writes the report as one object, with all digits. A figure that does not
// apply has the value null and a note.
func (r *Report) JSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(r)
}

// Text writes the report for a terminal.
func (r *Report) Text(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\nlimits: %s\nfindings: %s\n", r.File, r.Shop, r.findings())
	for _, p := range r.parts() {
		b.WriteByte('\n')
		for _, s := range p.text() {
			b.WriteString(s + "\n")
		}
	}
	fmt.Fprintf(&b, "\n%s\n", r.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

// Markdown writes the report for a pull request.
func (r *Report) Markdown(w io.Writer) error {
	var b strings.Builder
	cell := wording.Markdown
	fmt.Fprintf(&b, "# %s\n\nLimits: %s. Findings: %s.\n", cell(r.File), cell(r.Shop), r.findings())
	for _, p := range r.parts() {
		p.markdown(&b)
	}
	fmt.Fprintf(&b, "\n%s\n", r.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

// markdown writes the part under a heading of its own.
func (p part) markdown(b *strings.Builder) {
	fmt.Fprintf(b, "\n## %s\n", wording.Markdown(p.title))
	row := func(cells []string) {
		b.WriteByte('|')
		for _, c := range cells {
			b.WriteString(strings.TrimRight(" "+wording.Markdown(c), " ") + " |")
		}
		b.WriteByte('\n')
	}
	if len(p.rows) > 0 {
		b.WriteByte('\n')
		row(p.head)
		for _, right := range p.right {
			b.WriteString(map[bool]string{false: "|---", true: "|---:"}[right])
		}
		b.WriteString("|\n")
		for _, r := range p.rows {
			row(r)
		}
	}
	for i, s := range p.notes {
		if i == 0 {
			b.WriteByte('\n')
		}
		b.WriteString("- " + wording.Markdown(s) + "\n")
	}
}
