package queries

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

// Where tells in which file and line a place stands; lines count from 1.
type Where func(source.Place) (file string, line int)

// Summary is the line that closes a list.
func Summary(list []Result) string {
	return fmt.Sprintf("%d answered, %d open, %d left to the shop", Count(list, Answered), Count(list, Open), Count(list, Left))
}

// Complete closes a list without an open question.
const Complete = "No question that hemline knows is open; the shop may ask more."

// Text writes results for a terminal, what is open first.
func Text(w io.Writer, file string, list []Result, where Where) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", file)
	for _, state := range States {
		if Count(list, state) == 0 {
			continue
		}
		fmt.Fprintf(&b, "\n%s\n", state)
		for _, r := range list {
			if r.State != state {
				continue
			}
			fmt.Fprintf(&b, "  %s: %s\n", r.Name, r.Question)
			for _, p := range r.Parts {
				f, line := where(p.At)
				fmt.Fprintf(&b, "    %s%s (%s:%d)\n", lead(state), wording.OneLine(p.Text), f, line)
			}
		}
	}
	fmt.Fprintf(&b, "\n%s\n", Summary(list))
	if Count(list, Open) == 0 {
		fmt.Fprintf(&b, "%s\n", Complete)
	}
	fmt.Fprintf(&b, "%s\n", wording.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

func lead(s State) string {
	if s == Open {
		return "would answer: "
	}
	return ""
}

// Markdown writes results for a pull request.
func Markdown(w io.Writer, file string, list []Result, where Where) error {
	var b strings.Builder
	fmt.Fprintf(&b, "# Queries: %s\n\n%s.\n", wording.Markdown(file), Summary(list))
	if Count(list, Open) == 0 {
		fmt.Fprintf(&b, "\n%s\n", Complete)
	}
	for _, state := range States {
		if Count(list, state) == 0 {
			continue
		}
		head := "answer"
		if state == Open {
			head = "would answer"
		}
		fmt.Fprintf(&b, "\n## %s\n\n| query | question | %s | where |\n|---|---|---|---|\n", state, head)
		for _, r := range list {
			if r.State != state {
				continue
			}
			for i, p := range r.Parts {
				f, line := where(p.At)
				name, question := r.Name, r.Question
				if i > 0 {
					name, question = "", ""
				}
				fmt.Fprintf(&b, "| %s | %s | %s | %s:%d |\n", name, question, wording.Markdown(p.Text), wording.Markdown(f), line)
			}
		}
	}
	fmt.Fprintf(&b, "\n%s\n", wording.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

type jsonPart struct {
	Text string `json:"text"`
	File string `json:"file"`
	Line int    `json:"line"`
}

type jsonQuery struct {
	Name        string     `json:"name"`
	Question    string     `json:"question"`
	State       State      `json:"state"`
	Answers     []jsonPart `json:"answers"`
	WouldAnswer []jsonPart `json:"wouldAnswer"`
}

// JSON writes results as one object.
func JSON(w io.Writer, file string, list []Result, where Where) error {
	out := struct {
		File     string      `json:"file"`
		Complete bool        `json:"complete"`
		Answered int         `json:"answered"`
		Open     int         `json:"open"`
		Left     int         `json:"leftToTheShop"`
		Queries  []jsonQuery `json:"queries"`
		Caution  string      `json:"caution"`
	}{file, Count(list, Open) == 0, Count(list, Answered), Count(list, Open), Count(list, Left), []jsonQuery{}, wording.Caution}
	for _, r := range list {
		q := jsonQuery{r.Name, r.Question, r.State, []jsonPart{}, []jsonPart{}}
		into := &q.Answers
		if r.State == Open {
			into = &q.WouldAnswer
		}
		for _, p := range r.Parts {
			f, line := where(p.At)
			*into = append(*into, jsonPart{p.Text, f, line})
		}
		out.Queries = append(out.Queries, q)
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(out)
}

// Reference lists the table as a page of Markdown.
func Reference() string {
	var b strings.Builder
	b.WriteString(`<!-- Generated from the program's own tables; see DEVELOPERS.md. -->

# The queries

` + "`hemline queries FILE`" + ` holds a board to these questions: what a complete order for a board with plated edges states, and what
shops ask where it does not. Only those are shown that apply to the board. Each is ` + "`answered`" + `, ` + "`open`" + `, or ` + "`left to the shop`" + `.

Statements and clauses answer, and nothing else: nothing is worked out from a ` + "`note`" + `. A text that is empty, or says that
something is to be decided, answers nothing. An open query names the statement or clause that would answer it, and editors offer
to put it in.

` + "`leave NAME… to shop because \"…\"`" + ` leaves what the named queries ask for the shop to decide, and it is shown with the reason; with
` + "`along EDGE…`" + `, for what is on these edges alone. One that a statement answers as well is a finding.

Where the statement that raises a question answers it, nothing can be open: a half hole that is stated is
meant. What a drawing and data may disagree on is not asked, since both are made from one text; what is narrower than the
smallest bit is found by ` + "`hemline check`" + `.

Sources: a fabricator's column on edge plating (trade magazine, March 2022), a fabricator's guide to drawings of plated edges,
a fabricator's list of engineering queries; common practice. A shop may ask more.

| query | question | applies where | answered by |
|---|---|---|---|
`)
	for _, q := range table {
		when := q.When
		if when == "" {
			when = "always"
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", q.Name, q.Question, when, q.By)
	}
	return b.String()
}
