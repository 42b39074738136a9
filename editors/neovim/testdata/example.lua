-- One user's session on an example board.
local steps = dofile(vim.env.HEMLINE_SESSION)
local say, diagnostics, wait, has, ask = steps.say, steps.diagnostics, steps.wait, steps.has, steps.ask

steps.run(function()
  wait('the server', function() return #vim.lsp.get_active_clients() == 1 end)
  -- Clean: the empty list is the answer, which a question behind it waits for.
  ask('textDocument/documentSymbol', { textDocument = vim.lsp.util.make_text_document_params() })
  say('opened', diagnostics())

  local row = vim.fn.search('wrap *top') - 1
  local line = vim.api.nvim_buf_get_lines(0, row, row + 1, false)[1]
  local from, to = line:find('0%.8')
  vim.api.nvim_buf_set_text(0, row, from - 1, row, to, { '0.3' })
  wait('a wrap that is too narrow', has('wrap_land'))
  say('narrowed', diagnostics())
  vim.api.nvim_buf_set_text(0, row, from - 1, row, to, { '0.8' })
  wait('it to go', function() return #vim.diagnostic.get(0) == 0 end)
  say('mended', diagnostics())

  vim.fn.search('plating wall')
  vim.fn.search('wall')
  say('hover', ask('textDocument/hover', vim.lsp.util.make_position_params()))

  local before = vim.api.nvim_buf_get_lines(0, 0, -1, false)
  vim.api.nvim_buf_set_lines(0, row, row + 1, false, { (before[row + 1]:gsub('wrap *top', 'wrap top    ')) })
  if vim.lsp.buf.format then
    vim.lsp.buf.format({ timeout_ms = 10000 })
  else
    vim.lsp.buf.formatting_sync(nil, 10000)
  end
  say('formatted back', vim.deep_equal(before, vim.api.nvim_buf_get_lines(0, 0, -1, false)))
end)
