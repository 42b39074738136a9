package picture

import (
	"slices"

	"hemline/checks"
	"hemline/checks/report"
	"hemline/lang"
	"hemline/lang/emit/scene"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// maxMarks bounds at how many items one finding is marked.
const maxMarks = 8

// Of makes the frame of an analysed board and what came of checking it. The
// name is the text's own, for people; other files are named as the text would.
func Of(a *lang.Analysis, out checks.Outcome, name string, canGo bool) Frame {
	limits := checks.LimitsFor(a)
	s, found := scene.Build(a.Board(), limits.MaskMargin()), out.Findings
	s.GiveWay(a.Board(), limits.Room())
	f := Frame{File: name, Scene: s, Findings: make([]Finding, len(found)), CanGo: canGo, Field: report.FieldOf(a.Board(), out.Resonances), Waits: len(out.Waits) > 0}
	for _, x := range out.NotVerified() {
		f.NotVerified = append(f.NotVerified, Request{Asked: a.Named(x.Says), Why: a.Named(x.Why), Accepted: out.Agreed(x) != nil})
	}
	for _, x := range out.Accepted {
		f.Accepted = append(f.Accepted, Accepted{Rule: x.Rule, Message: a.Named(x.Message), Because: x.By.Because.Text, Until: x.By.Until.Text})
	}
	byName := map[string][]int{}
	for i := range s.Items {
		if n := s.Items[i].Name; n != "" {
			byName[n] = append(byName[n], i)
		}
	}
	for i, x := range found {
		f.Findings[i] = Finding{
			Category: x.Category.String(), Rule: x.Rule, Message: a.Named(x.Message), Place: x.Place,
			Line: x.File.LineOf(x.Span.Start) + 1,
		}
		if x.File.Path() != a.Root().Path() {
			f.Findings[i].File = a.NameOf(x.File.Path())
		}
		f.Findings[i].At = spot(a.Board(), &x.Finding)
		for _, n := range marks(s, byName, &x.Finding) {
			f.Findings[i].Items = append(f.Findings[i].Items, s.Items[n].ID)
		}
	}
	return f
}

// marks are the items that a finding is marked at: first that of its own
// statement, then those it names, then those of related statements.
func marks(s *scene.Scene, byName map[string][]int, x *finding.Finding) []int {
	var list []int
	seen := map[int]bool{}
	add := func(items []int) {
		for _, i := range items {
			if !seen[i] && len(s.Items[i].Parts) > 0 && len(list) < maxMarks {
				seen[i] = true
				list = append(list, i)
			}
		}
	}
	add(members(s, s.On(x.Place), x.Items))
	for _, name := range x.Items {
		add(byName[name])
	}
	if len(list) == 0 {
		for _, r := range x.Related {
			add(s.On(r.Place))
		}
	}
	return list
}

// members are those of a statement's items that a finding names, where it names
// any: a row's finding is at the member that it is about.
func members(s *scene.Scene, items []int, named []string) []int {
	own := slices.DeleteFunc(slices.Clone(items), func(i int) bool { return !slices.Contains(named, s.Items[i].Name) })
	if len(own) == 0 {
		return items
	}
	return own
}

// At is the id of the item whose statement holds an offset of the root text;
// "" where there is none.
func At(a *lang.Analysis, s *scene.Scene, offset int) string {
	statement, _ := a.Document().At(offset)
	if statement == nil {
		return ""
	}
	for _, i := range s.On(source.Place{Anchor: statement.Anchor()}) {
		return s.Items[i].ID
	}
	return ""
}
