package main

import (
	"context"

	"hemline/lsp"
)

type lspCommand struct{}

// Help is shown under `hemline lsp --help`.
func (lspCommand) Help() string {
	return `An editor starts this; it speaks the Language Server Protocol on standard
input and output, and logs to standard error.

Example (Neovim):
  vim.lsp.start_client({ cmd = { "hemline", "lsp" } })

Exit codes: 0 the editor shut it down, 1 it ended otherwise, 2 could not run.`
}

// Run serves until the editor leaves.
func (lspCommand) Run(ctx context.Context, s *streams) error {
	if code := lsp.Serve(ctx, s.in, s.out, s.err, release()); code != 0 {
		return exitCode(code)
	}
	return nil
}
