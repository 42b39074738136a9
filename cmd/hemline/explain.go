package main

import (
	"fmt"
	"io"

	"hemline/checks/rules"
)

type explainCommand struct {
	Names []string `arg:"" optional:"" name:"name" help:"Rules, limits, keywords or units; none to list them all."`
}

// Help is shown under `hemline explain --help`.
func (explainCommand) Help() string {
	return `Examples:
  hemline explain wrap_land
  hemline explain plating
  hemline explain oz
  hemline explain

Exit codes: 0 explained, 2 a name is not known or it could not run.`
}

// Run prints what is known of each name.
func (c explainCommand) Run(s *streams) error {
	if len(c.Names) == 0 {
		_, err := io.WriteString(s.out, rules.All().Index())
		return err
	}
	code := exitClean
	for i, name := range c.Names {
		text, ok := rules.All().Explain(name)
		if !ok {
			s.fail("%s", text)
			code = exitFailed
			continue
		}
		if i > 0 {
			fmt.Fprintln(s.out)
		}
		if _, err := io.WriteString(s.out, text); err != nil {
			return err
		}
	}
	if code != exitClean {
		return exitCode(code)
	}
	return nil
}
