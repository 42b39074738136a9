-- What Neovim does with the rest of the protocol, on an example board and on
-- two small files beside it.
local steps = dofile(vim.env.HEMLINE_SESSION)
local say, diagnostics, wait, has, ask = steps.say, steps.diagnostics, steps.wait, steps.has, steps.ask

-- Neovim 0.7 keeps some answers to itself: they are asked for as it asks.
local function here(more)
  return vim.tbl_extend('force', vim.lsp.util.make_position_params(), more or {})
end

local function go_to(words)
  vim.api.nvim_win_set_cursor(0, { 1, 0 })
  assert(vim.fn.search('\\V' .. words, 'c') > 0, words)
end

steps.run(function()
  wait('the server', function() return #vim.lsp.get_active_clients() == 1 end)
  ask('textDocument/documentSymbol', { textDocument = vim.lsp.util.make_text_document_params() })

  go_to('scar on south')
  say('references', #ask('textDocument/references', here({ context = { includeDeclaration = true } })))
  vim.lsp.buf.document_highlight()
  local space = vim.api.nvim_get_namespaces()['vim_lsp_references']
  wait('the highlights', function()
    space = vim.api.nvim_get_namespaces()['vim_lsp_references']
    return space and #vim.api.nvim_buf_get_extmarks(0, space, 0, -1, {}) > 0
  end)
  say('highlights', #vim.api.nvim_buf_get_extmarks(0, space, 0, -1, {}))

  go_to('antenna like')
  say('signature', ask('textDocument/signatureHelp', here()).signatures[1].label)

  vim.lsp.codelens.refresh()
  wait('the lenses', function() return #vim.lsp.codelens.get(0) > 0 end)
  say('lenses', vim.tbl_map(function(lens) return lens.command.title end, vim.lsp.codelens.get(0)))

  -- A quick fix, chosen as from the menu.
  local row = vim.fn.search('wrap *top') - 1
  local line = vim.api.nvim_buf_get_lines(0, row, row + 1, false)[1]
  local from, to = line:find('0%.8')
  vim.api.nvim_buf_set_text(0, row, from - 1, row, to, { '0.3' })
  wait('a wrap that is too narrow', has('wrap_land'))
  vim.api.nvim_win_set_cursor(0, { row + 1, 3 })
  vim.ui.select = function(items, _, choose) -- the first, as by 1 and Enter
    say('actions', vim.tbl_map(function(item) return item[2].title end, items))
    choose(items[1], 1)
  end
  vim.lsp.buf.code_action()
  wait('it to be mended', function() return #vim.diagnostic.get(0) == 0 end)
  say('fixed', vim.api.nvim_buf_get_lines(0, row, row + 1, false)[1])

  vim.cmd('cd ' .. vim.fn.fnameescape(vim.fn.expand('%:p:h')))
  vim.cmd('edit! used.hem')
  vim.cmd('edit uses.hem')
  wait('both to be attached', function() return next(vim.lsp.buf_get_clients(0)) ~= nil end)
  go_to('wide')
  vim.lsp.buf.rename('breadth')
  wait('the new name', function() return vim.fn.search('breadth', 'n') > 0 end)
  say('renamed here', vim.fn.getline(vim.fn.search('breadth', 'n')))
  vim.cmd('buffer used.hem')
  say('renamed there', vim.fn.getline(vim.fn.search('breadth', 'cnw')))
  say('diagnostics', diagnostics())
end)
