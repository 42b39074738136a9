package main

import (
	"context"
	"runtime/debug"

	"hemline/lsp"
)

type lspCommand struct{}

// Help is shown under `hemline lsp --help`.
func (lspCommand) Help() string {
	return `An editor starts this; it speaks the Language Server Protocol on standard
input and output, and logs to standard error.

Example (Neovim):
  vim.lsp.start_client({ cmd = { "hemline", "lsp" } })`
}

// serverGCPercent lets the heap grow to five times what is in use before it is
// collected. A server holds a few megabytes, so that costs little memory and
// keeps the collector out of most keystrokes.
const serverGCPercent = 400

// Run serves until the editor leaves.
func (lspCommand) Run(ctx context.Context, s *streams) error {
	debug.SetGCPercent(serverGCPercent)
	if code := lsp.Serve(ctx, s.in, s.out, s.err, version); code != 0 {
		return exitCode(code)
	}
	return nil
}
