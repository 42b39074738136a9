-- One user's session on a small text.
local steps = dofile(vim.env.HEMLINE_SESSION)
local say, diagnostics, wait, has, ask = steps.say, steps.diagnostics, steps.wait, steps.has, steps.ask

local function session()
  local v = vim.version()
  say('neovim', ('%d.%d.%d'):format(v.major, v.minor, v.patch))
  say('filetype', vim.bo.filetype)
  wait('an unknown name', has('unknown_name'))
  say('opened', diagnostics())

  -- The name is replaced by a length, as a user would type it.
  local line = vim.api.nvim_buf_get_lines(0, 1, 2, false)[1]
  local from, to = line:find('tall')
  vim.api.nvim_buf_set_text(0, 1, from - 1, 1, to, { '30 mm' })
  wait('it to go', function() return not has('unknown_name')() end)
  say('repaired', diagnostics())

  vim.api.nvim_win_set_cursor(0, { 2, line:find('outline') - 1 })
  say('hover', ask('textDocument/hover', vim.lsp.util.make_position_params()))
  vim.api.nvim_win_set_cursor(0, { 2, line:find('wide') - 1 })
  say('definition', ask('textDocument/definition', vim.lsp.util.make_position_params()))
  say('symbols', ask('textDocument/documentSymbol', { textDocument = vim.lsp.util.make_text_document_params() }))

  if vim.lsp.buf.format then
    vim.lsp.buf.format({ timeout_ms = 10000 })
  else
    vim.lsp.buf.formatting_sync(nil, 10000)
  end
  say('formatted', vim.api.nvim_buf_get_lines(0, 0, -1, false))

  local clients = (vim.lsp.get_clients or vim.lsp.get_active_clients)()
  say('clients', #clients)
  vim.lsp.stop_client(clients[1].id)
  wait('the server to end', function() return #(vim.lsp.get_clients or vim.lsp.get_active_clients)() == 0 end)
  say('end', true)
end

steps.run(session)
