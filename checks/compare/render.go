package compare

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"hemline/lang/emit/wording"
)

// JSON writes the comparison as one object.
func (c *Comparison) JSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(c)
}

// sections are the comparison in words, under headings; without one where nothing differs.
func (c *Comparison) sections() (list []wording.Section) {
	add := func(heading string, lines []string) {
		if len(lines) > 0 {
			list = append(list, wording.Section{Heading: heading, Lines: lines})
		}
	}
	var lines []string
	for _, x := range c.Changes {
		lines = append(lines, x.says())
	}
	add("what changed", lines)
	lines = nil
	for _, f := range c.Figures {
		lines = append(lines, f.says())
	}
	add("figures", lines)
	add("asked for", pairsOf(c.Asked))
	lines = nil
	for _, side := range []struct {
		word string
		list []Finding
	}{{"new", c.FindingsNew}, {"gone", c.FindingsGone}, {"newly accepted", c.AcceptedNew}, {"accepted no more", c.AcceptedGone}} {
		for _, f := range side.list {
			lines = append(lines, fmt.Sprintf("%s: %s:%d: %s: %s [%s]", side.word, f.File, f.Line, f.Category, f.Message, f.Rule))
		}
	}
	for _, f := range c.FindingsChanged {
		lines = append(lines, fmt.Sprintf("changed: %s:%d: %s: %s [%s]; before: %s", f.File, f.Line, f.Category, f.Message, f.Rule, f.Before))
	}
	heading := "findings"
	if c.FindingsKept > 0 {
		heading += fmt.Sprintf(" (%d stand as before)", c.FindingsKept)
	}
	add(heading, lines)
	add("queries", pairsOf(c.Queries))
	lines = nil
	for _, s := range c.NotesGone {
		lines = append(lines, "before: "+s)
	}
	for _, s := range c.NotesNew {
		lines = append(lines, "now: "+s)
	}
	add("fabrication notes", lines)
	return list
}

// says is a change on one line.
func (c *Change) says() string {
	head := c.Kind + " " + c.Name
	if c.Kind == c.Name {
		head = c.Name
	}
	if c.What == Renamed {
		head = fmt.Sprintf("%s %s is %s now", c.Kind, c.Was, c.Name)
	}
	var parts []string
	for _, d := range c.Details {
		switch {
		case c.What == Added:
			parts = append(parts, d.What+" "+d.After)
		case c.What == Removed:
			parts = append(parts, d.What+" "+d.Before)
		default:
			parts = append(parts, d.says())
		}
	}
	if c.What == Added || c.What == Removed {
		head += " " + c.What
	}
	if len(parts) == 0 {
		return head
	}
	return head + ": " + strings.Join(parts, "; ")
}

// says is a detail before and after.
func (d Detail) says() string {
	switch {
	case d.Before == "":
		return d.What + " " + d.After + ", not stated before"
	case d.After == "":
		return d.What + " " + d.Before + " no more"
	}
	return d.What + " " + d.Before + " → " + d.After
}

func (f Figure) says() string {
	text := f.Of + ": " + f.Detail.says()
	if f.Share != nil {
		text += fmt.Sprintf(" (%+.3g %%)", 100**f.Share)
	}
	return text
}

func pairsOf(list []Detail) (lines []string) {
	for _, d := range list {
		lines = append(lines, d.says())
	}
	return lines
}

// Same is what is said of two texts that mean the same board.
const same = "the same board: nothing differs but how it is written, if anything does"

// Text writes the comparison for a terminal.
func (c *Comparison) Text(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s → %s\n", wording.OneLine(c.Old), wording.OneLine(c.New))
	if c.Same() {
		b.WriteString(same + "\n")
	}
	for _, s := range c.sections() {
		fmt.Fprintf(&b, "\n%s:\n", s.Heading)
		for _, l := range s.Lines {
			b.WriteString("  " + wording.OneLine(l) + "\n")
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// Markdown writes it for a pull request; the notes are folded away.
func (c *Comparison) Markdown(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s → %s\n", wording.Markdown(c.Old), wording.Markdown(c.New))
	if c.Same() {
		b.WriteString("\nT" + strings.TrimPrefix(same, "t") + ".\n")
	}
	for _, s := range c.sections() {
		folded := strings.HasPrefix(s.Heading, "fabrication")
		if folded {
			fmt.Fprintf(&b, "\n<details><summary>%s: %d differ</summary>\n\n", s.Heading, len(s.Lines))
		} else {
			fmt.Fprintf(&b, "\n## %s\n\n", s.Heading)
		}
		for _, l := range s.Lines {
			b.WriteString("- " + wording.Markdown(l) + "\n")
		}
		if folded {
			b.WriteString("\n</details>\n")
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}
