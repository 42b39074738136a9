package report

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"hemline/checks"
	"hemline/checks/asked"
	"hemline/checks/figures"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/finding"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// Shops compares what fabricators ask for with what a board has.
type Shops struct {
	File  string `json:"file"`
	Shops []Shop `json:"fabricators"`
	Rows  []Row  `json:"limits"`
	// NotVerified is what the board asks for that could not be worked out: no row
	// of the table speaks of it.
	NotVerified []Unanswered `json:"notVerified"`
	Caution     string       `json:"caution"`
}

// Unanswered is something that a board asks for and that is not verified.
type Unanswered struct {
	Clause   string `json:"clause"`
	Asked    string `json:"asked"`
	Why      string `json:"why"`
	Accepted string `json:"accepted,omitempty"` // why that is agreed
	// At are the fabricators by whose limits it could not be worked out.
	At []string `json:"fabricators"`
}

// Shop is a fabricator and its verdict.
type Shop struct {
	Name   string         `json:"name"`
	File   string         `json:"file"`
	Builds bool           `json:"builds"` // nothing is unbuildable there
	Counts map[string]int `json:"findings"`
	// Edits are the fewest found that would change a "no", those that hemline
	// can make first.
	Edits  []string `json:"edits"`
	limits *checks.Limits
	// verdicts are the gravest of each rule's findings.
	verdicts map[string]Verdict
}

// Row is a limit that the board touches, a cell a fabricator; or a rule without
// a limit, by which a fabricator cannot build the board.
type Row struct {
	Limit string `json:"limit"`
	Side  string `json:"side"` // minimum or maximum; "" for a rule
	Board string `json:"board"`
	Cells []Cell `json:"cells"`
}

// Cell is a fabricator's limit and how far the board is from it.
type Cell struct {
	Limit  string `json:"limit"`  // "" where it is not the same all over the board
	Margin string `json:"margin"` // + is room, - is what lacks
	Meets  bool   `json:"meets"`
	// Verdict is ok, or where the limit is not met accepted, short or cannot: by
	// what the board's findings there say.
	Verdict Verdict `json:"verdict"`
	Who     string  `json:"who"` // the fabricator, or common practice where it is silent
}

// Verdict is how a board stands to a fabricator's limit.
type Verdict string

// The verdicts.
const (
	OK            Verdict = "ok"
	AcceptedShort Verdict = "accepted" // short, and agreed
	Short         Verdict = "short"    // risky, costly or untidy
	Cannot        Verdict = "cannot"   // unbuildable
)

// Compare holds a board to one fabricator after another: those that the files
// state, or common practice for a nil one.
func Compare(a *lang.Analysis, read lang.Reader, shops []*lang.Analysis, today string) *Shops {
	out := &Shops{File: a.Root().Path(), Shops: []Shop{}, Rows: []Row{}, NotVerified: []Unanswered{}, Caution: wording.Caution}
	modes := figures.NewStore(nil)
	for _, s := range shops {
		limits := checks.LimitsFor(s)
		shop := Shop{Name: "common practice", File: s.Root().Path(), limits: limits, Counts: map[string]int{}, Edits: []string{}}
		if limits.Shop() != nil {
			shop.Name = limits.Shop().Name.Text
		}
		outcome := rules.All().Check(a, checks.Options{Today: today, Limits: limits, Modes: modes})
		found := outcome.Findings
		shop.verdicts = map[string]Verdict{}
		for _, x := range outcome.Accepted {
			shop.verdicts[x.Rule] = AcceptedShort
		}
		for _, f := range found {
			shop.Counts[f.Category.String()]++
			if f.Category >= finding.Unbuildable {
				shop.verdicts[f.Rule] = Cannot
			} else if shop.verdicts[f.Rule] != Cannot {
				shop.verdicts[f.Rule] = Short
			}
		}
		shop.Builds = len(unbuildable(found)) == 0
		if !shop.Builds {
			shop.Edits = edits(a, read, limits, today)
		}
		for _, x := range outcome.Asked {
			if x.Verdict == asked.NotVerified {
				out.unanswered(x, shop.Name, outcome.Agreed(x))
			}
		}
		out.Shops = append(out.Shops, shop)
	}
	for _, m := range rules.All().Measures(a) {
		out.Rows = append(out.Rows, row(m, out.Shops))
	}
	out.Rows = append(out.Rows, otherRows(out)...)
	return out
}

// unanswered notes what is not verified by a fabricator's limits.
func (s *Shops) unanswered(x asked.Answer, at string, by *board.Acceptance) {
	i := slices.IndexFunc(s.NotVerified, func(u Unanswered) bool { return u.Clause == x.Clause })
	if i < 0 {
		i = len(s.NotVerified)
		s.NotVerified = append(s.NotVerified, Unanswered{Clause: x.Clause, Asked: x.Says, Why: x.Why})
		if by != nil {
			s.NotVerified[i].Accepted = by.Because.Text
		}
	}
	s.NotVerified[i].At = append(s.NotVerified[i].At, at)
}

// notVerified is the line of what was asked for and not verified; "" where
// nothing was.
func (s *Shops) notVerified() string {
	var parts []string
	for _, x := range s.NotVerified {
		part := x.Asked
		if x.Accepted != "" {
			part += " (accepted)"
		}
		if len(x.At) < len(s.Shops) {
			part += " (" + strings.Join(x.At, ", ") + ")"
		}
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return ""
	}
	return "asked and not verified: " + strings.Join(parts, "; ")
}

// otherRows are the rules by which a fabricator cannot build the board and of
// which no row says so: they read no limit.
func otherRows(s *Shops) (list []Row) {
	for _, r := range rules.All() {
		missing := false
		for i, shop := range s.Shops {
			shown := slices.ContainsFunc(s.Rows, func(x Row) bool { return x.Cells[i].Verdict == Cannot && slices.Contains(r.Limits, x.Limit) })
			missing = missing || shop.verdicts[r.Name] == Cannot && !shown
		}
		if !missing {
			continue
		}
		x := Row{Limit: r.Name, Board: "–"}
		for _, shop := range s.Shops {
			v := cmp.Or(shop.verdicts[r.Name], OK)
			x.Cells = append(x.Cells, Cell{Meets: v == OK, Verdict: v})
		}
		list = append(list, x)
	}
	return list
}

// standing is how a board stands to a limit that it does not meet: the gravest
// that a rule says which reads it.
func (s *Shop) standing(limit string) Verdict {
	worst := Verdict("")
	for _, r := range rules.All() {
		if slices.Contains(r.Limits, limit) && slices.Index(gravity, s.verdicts[r.Name]) > slices.Index(gravity, worst) {
			worst = s.verdicts[r.Name]
		}
	}
	return cmp.Or(worst, Short)
}

// gravity lists the verdicts on what is not met, the gravest last.
var gravity = []Verdict{"", AcceptedShort, Short, Cannot}

func unbuildable(list []finding.Located) []finding.Located {
	var out []finding.Located
	for _, f := range list {
		if f.Category >= finding.Unbuildable {
			out = append(out, f)
		}
	}
	return out
}

// edits makes every fix that there is, one after another, and then counts the
// places that are left to mend by hand.
func edits(a *lang.Analysis, read lang.Reader, limits *checks.Limits, today string) []string {
	var list []string
	check := func(a *lang.Analysis) []finding.Located {
		return unbuildable(rules.All().Check(a, checks.Options{Today: today, Limits: limits, Later: true}).Findings) // what resonates is built
	}
	left := check(a)
	for range 100 {
		fixed := false
		for _, f := range left {
			next, ok := apply(a, f, read)
			if !ok {
				continue
			}
			if after := check(next); len(after) < len(left) {
				list = append(list, fmt.Sprintf("%s, line %d (%s)", f.Fix.Title, f.File.LineOf(f.Span.Start)+1, f.Rule))
				a, left, fixed = next, after, true
				break
			}
		}
		if !fixed {
			break
		}
	}
	seen := map[source.Span]bool{}
	for _, f := range left {
		if !seen[f.Span] {
			seen[f.Span] = true
			list = append(list, fmt.Sprintf("by hand, line %d: %s (%s)", f.File.LineOf(f.Span.Start)+1, f.Message, f.Rule))
		}
	}
	return list
}

// apply makes a finding's fix, if it is surely right, in the root text.
func apply(a *lang.Analysis, f finding.Located, read lang.Reader) (*lang.Analysis, bool) {
	if f.Fix == nil || f.Fix.Guess || len(f.Fix.Edits) != 1 {
		return nil, false
	}
	file, span, ok := a.Locate(f.Fix.Edits[0].Place)
	if !ok || file != a.Root() {
		return nil, false
	}
	return lang.Analyze(file.Edit(span, f.Fix.Edits[0].Text), read, a), true
}

func row(m checks.Measure, shops []Shop) Row {
	r := Row{Limit: m.Parameter.Name, Side: "minimum", Board: m.Value.String()}
	if !m.IsMinimum {
		r.Side = "maximum"
	}
	if m.Never {
		r.Board = "fails in any case"
	}
	for _, s := range shops {
		var l checks.Limit
		if m.IsMinimum {
			l = s.limits.Minimum(m.Parameter.Name)
		} else {
			l = s.limits.Maximum(m.Parameter.Name)
		}
		room := m.Value.Value - l.Value
		if !m.IsMinimum {
			room = -room
		}
		// A share or a moment is known to some twelve digits.
		meets := !m.Never && room >= -1e-9*max(l.Value, 1e-9)
		margin := quantity.Quantity{Value: room, Dim: m.Value.Dim, Unit: m.Value.Unit}
		c := Cell{Limit: l.Quantity.As(m.Value.Unit).String(), Meets: meets, Who: l.Who, Margin: signed(margin, meets)}
		if m.Parameter.Varies != "" && l.At == (source.Place{}) {
			c.silent(s, m.Parameter)
		} else if c.Verdict = OK; !meets {
			c.Verdict = s.standing(m.Parameter.Name)
		}
		if m.Never {
			c.Margin = ""
		}
		r.Cells = append(r.Cells, c)
	}
	return r
}

// silent is how a board stands to a shop that is silent on a limit whose built-in
// value is not the same all over the board: by what the rules find there.
func (c *Cell) silent(s Shop, p *checks.Parameter) {
	c.Limit, c.Margin, c.Verdict = "", "", OK
	if c.Meets = s.meets(p.Name); !c.Meets {
		c.Verdict = s.standing(p.Name)
	}
}

// meets tells whether no rule that reads a limit finds anything.
func (s *Shop) meets(limit string) bool {
	return !slices.ContainsFunc(rules.All(), func(r *checks.Rule) bool {
		return slices.Contains(r.Limits, limit) && s.verdicts[r.Name] != ""
	})
}

func signed(q quantity.Quantity, meets bool) string {
	if meets && q.Value < 0 {
		q.Value = 0
	}
	if q.Value >= 0 {
		return "+" + q.String()
	}
	return q.String()
}

// JSON writes the comparison as one object.
func (s *Shops) JSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(s)
}

// table is the comparison as cells of text: a header, a row a limit, the verdict.
func (s *Shops) table() [][]string {
	head := []string{"limit", "board"}
	for _, shop := range s.Shops {
		head = append(head, shop.Name)
	}
	rows := [][]string{head}
	for _, r := range s.Rows {
		sign := "≥"
		if r.Side == "maximum" {
			sign = "≤"
		}
		line := []string{r.Limit, r.Board}
		for _, c := range r.Cells {
			text := string(c.Verdict)
			if c.Limit != "" {
				text += " " + sign + " " + c.Limit
			}
			if c.Margin != "" {
				text += " (" + c.Margin + ")"
			}
			line = append(line, text)
		}
		rows = append(rows, line)
	}
	verdict := []string{"builds it", ""}
	for _, shop := range s.Shops {
		switch n := len(shop.Edits); {
		case shop.Builds:
			verdict = append(verdict, "yes"+others(shop.Counts))
		default:
			verdict = append(verdict, "cannot: "+wording.Plural(n, "edit"))
		}
	}
	return append(rows, verdict)
}

func others(counts map[string]int) string {
	n := counts["risky"] + counts["costly"] + counts["tidy"]
	if n == 0 {
		return ""
	}
	return ", " + wording.Plural(n, "other finding")
}

// Text writes the comparison for a terminal.
func (s *Shops) Text(w io.Writer) error {
	var b strings.Builder
	rows := s.table()
	widths := make([]int, len(rows[0]))
	for _, r := range rows {
		for i, c := range r {
			widths[i] = max(widths[i], utf8.RuneCountInString(c))
		}
	}
	fmt.Fprintf(&b, "%s\n\n", s.File)
	for _, r := range rows {
		line := ""
		for i, c := range r {
			line += c + strings.Repeat(" ", widths[i]-utf8.RuneCountInString(c)+2)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	if line := s.notVerified(); line != "" {
		fmt.Fprintf(&b, "\n%s\n", line)
	}
	s.edits(&b, "  ")
	fmt.Fprintf(&b, "\n%s\n", s.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

func (s *Shops) edits(b *strings.Builder, indent string) {
	for _, shop := range s.Shops {
		if shop.Builds {
			continue
		}
		fmt.Fprintf(b, "\nwhat would change the answer of %s:\n", shop.Name)
		for _, e := range shop.Edits {
			fmt.Fprintf(b, "%s- %s\n", indent, e)
		}
	}
}

// Markdown writes the comparison for a pull request.
func (s *Shops) Markdown(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\n", wording.Markdown(s.File))
	for i, r := range s.table() {
		for j := range r {
			r[j] = wording.Markdown(r[j])
		}
		b.WriteString("| " + strings.Join(r, " | ") + " |\n")
		if i == 0 {
			b.WriteString(strings.Repeat("|---", len(r)) + "|\n")
		}
	}
	if line := s.notVerified(); line != "" {
		fmt.Fprintf(&b, "\n%s\n", wording.Markdown(line))
	}
	s.edits(&b, "")
	fmt.Fprintf(&b, "\n%s\n", s.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}
