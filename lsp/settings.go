package lsp

import (
	"bytes"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"go.lsp.dev/protocol"

	"hemline/lang/finding"
)

// section is the name of the server's settings in a client's.
const section = "hemline"

// settings are what a client may choose. They are never changed in place.
type settings struct {
	// Fabricator is the path of a file whose fabricator holds for boards that
	// state none; "" for the built-in limits.
	Fabricator string `json:"fabricator"`
	// Units is the unit of lengths in hints: mm or mil.
	Units string `json:"units"`
	// SeverityFloor is the lightest category of findings that is shown.
	SeverityFloor string `json:"severityFloor"`
	// InlayHints switches the kinds of hints.
	InlayHints hintSettings `json:"inlayHints"`
}

type hintSettings struct {
	Coordinates bool `json:"coordinates"`
	Values      bool `json:"values"`
	Units       bool `json:"units"`
	Margins     bool `json:"margins"`
}

func defaultSettings() *settings {
	return &settings{Units: "mm", SeverityFloor: finding.Tidy.String(), InlayHints: hintSettings{Coordinates: true, Values: true, Units: true}}
}

// floor is the lightest category that is shown.
func (s *settings) floor() finding.Category {
	c, _ := finding.ParseCategory(s.SeverityFloor)
	return c
}

// shown are the findings of categories that are shown.
func (s *settings) shown(found []finding.Located) []finding.Located {
	floor := s.floor()
	return slices.DeleteFunc(slices.Clone(found), func(f finding.Located) bool { return f.Category < floor })
}

// readSettings reads what a client says: the section itself, or an object that
// holds it. What is absent keeps its default, and so does what cannot be, of
// which the second result tells. Clients that know no settings send null.
func readSettings(raw json.RawMessage) (*settings, []string) {
	set := defaultSettings()
	var outer map[string]json.RawMessage
	if json.Unmarshal(raw, &outer) != nil {
		return set, nil
	}
	if inner, ok := outer[section]; ok {
		if outer = nil; json.Unmarshal(inner, &outer) != nil {
			return set, nil
		}
	}
	var wrong []string
	read := func(name string, into any, expected string) {
		value, ok := outer[name]
		if ok && !bytes.Equal(value, []byte("null")) && json.Unmarshal(value, into) != nil {
			wrong = append(wrong, fmt.Sprintf("%s.%s is %s; expected %s", section, name, value, expected))
		}
	}
	read("fabricator", &set.Fabricator, "the path of a file")
	read("units", &set.Units, "mm or mil")
	read("severityFloor", &set.SeverityFloor, "a category")
	read("inlayHints", &set.InlayHints, "an object of true and false")
	if set.Units != "mm" && set.Units != "mil" {
		wrong = append(wrong, fmt.Sprintf("%s.units is %q; expected mm or mil", section, set.Units))
		set.Units = "mm"
	}
	if _, ok := finding.ParseCategory(set.SeverityFloor); !ok {
		wrong = append(wrong, fmt.Sprintf("%s.severityFloor is %q; expected one of %s", section, set.SeverityFloor, strings.Join(finding.Categories(), ", ")))
		set.SeverityFloor = finding.Tidy.String()
	}
	return set, wrong
}

// configure puts settings in force and lets what they change be seen.
func (s *server) configure(raw json.RawMessage) {
	if s.applySettings(raw) {
		s.changed()
	}
}

// applySettings puts settings in force and tells whether they are others than
// before. A relative path of a fabricator is looked for in the workspace's
// first folder.
func (s *server) applySettings(raw json.RawMessage) bool {
	set, wrong := readSettings(raw)
	if set.Fabricator != "" {
		if folder := s.workspace.first(); folder != "" && !filepath.IsAbs(set.Fabricator) {
			set.Fabricator = filepath.Join(folder, filepath.FromSlash(set.Fabricator))
		}
		if f, err := s.docs.reader(s.docs.current())(set.Fabricator); err != nil {
			wrong = append(wrong, fmt.Sprintf("%s.fabricator: cannot read %s: %v", section, set.Fabricator, err))
			set.Fabricator = ""
		} else {
			set.Fabricator = f.Path()
		}
	}
	go func() { // this may be the read loop, and the client may not be reading
		for _, text := range wrong {
			s.say(protocol.MessageTypeWarning, text)
		}
	}()
	if *s.docs.current().settings == *set {
		return false
	}
	s.docs.configure(set)
	return true
}

// changed lets everything be worked out anew that depends on more than the open
// texts, and tells a client that asks by itself to ask again.
func (s *server) changed() {
	s.diag.wake()
	s.refresh()
}
