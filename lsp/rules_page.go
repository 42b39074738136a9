package lsp

import (
	"fmt"
	"hash/fnv"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/natefinch/atomic"

	"hemline/checks/rules"
)

// rulesPage is the rules' reference as a file of the user's cache folder, so
// that an editor can open what a finding's name stands for without any network.
type rulesPage struct {
	once  sync.Once
	uri   string         // "" where the folder cannot be written
	lines map[string]int // by rule, from 1
}

// write puts the page in place, unless it is there. Its name holds a sum of
// its text: two versions of the program do not fight over it.
func (p *rulesPage) write() error {
	folder, err := os.UserCacheDir()
	if err != nil {
		return err
	}
	text := rules.All().RulesReference()
	sum := fnv.New64a()
	sum.Write([]byte(text))
	path := filepath.Join(folder, "hemline", fmt.Sprintf("rules-%x.md", sum.Sum64()))
	if known, err := os.ReadFile(path); err != nil || string(known) != text {
		if err := replaceFile(path, text); err != nil {
			return err
		}
	}
	p.lines = map[string]int{}
	n := 0
	for line := range strings.Lines(text) {
		n++
		if name, ok := strings.CutPrefix(strings.TrimSpace(line), "## "); ok {
			p.lines[name] = n
		}
	}
	p.uri = uriOf(path)
	return nil
}

// replaceFile writes a file whole or not at all.
func replaceFile(path, text string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return atomic.WriteFile(path, strings.NewReader(text))
}

// rulePlace is where a rule is described; "" for one that is not on the page.
func (s *server) rulePlace(rule string) string {
	s.rules.once.Do(func() {
		if err := s.rules.write(); err != nil {
			s.log.Printf("the rules' page: %v", err)
		}
	})
	line, ok := s.rules.lines[rule]
	if !ok || s.rules.uri == "" {
		return ""
	}
	return fmt.Sprintf("%s#L%d", s.rules.uri, line)
}
