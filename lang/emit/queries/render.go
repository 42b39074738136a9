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

A statement or clause answers before a note does. Where it is silent, or the language has none for the matter, a ` + "`note`" + ` answers
that speaks of it: one of its sentences has all the words of one entry under "a note says", in any order, whole, in either
case, in the singular or with an s; a hyphen counts as a space, and a word after "without" must not stand there. A sentence
ends with a semicolon, or a full stop before a space.

A note leaves the matter to the shop where the same sentence says that it is left (or up) to the shop or the fabricator, that
either decides or chooses, or that it is the shop's choice. A sentence with "not", "no", "never" or the like leaves nothing.

Where a question has nothing under "a note says", the statement that raises it answers it: a half hole that is stated is
meant. What a drawing and data may disagree on is not asked, since both are made from one text; what is narrower than the
smallest bit is found by ` + "`hemline check`" + `.

Sources: a fabricator's column on edge plating (trade magazine, March 2022), a fabricator's guide to drawings of plated edges,
a fabricator's list of engineering queries; common practice. A shop may ask more.

| query | question | applies where | answered by | a note says |
|---|---|---|---|---|
`)
	for _, q := range table {
		when, by := q.When, q.By
		if when == "" {
			when = "always"
		}
		if by == "" {
			by = "a note"
		}
		var words []string
		for _, s := range q.Speaks {
			words = append(words, spoken(s))
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s |\n", q.Name, q.Question, when, by, strings.Join(words, "; "))
	}
	return b.String()
}

// spoken writes a topic's words for people.
func spoken(alternative string) string {
	var with, without []string
	for w := range strings.FieldsSeq(alternative) {
		if w, ok := strings.CutPrefix(w, "-"); ok {
			without = append(without, w)
		} else {
			with = append(with, w)
		}
	}
	s := strings.Join(with, " ")
	if len(without) > 0 {
		s += " (without " + strings.Join(without, ", ") + ")"
	}
	return s
}
