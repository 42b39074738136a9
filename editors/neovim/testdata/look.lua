-- Where an author looks: what is left of a limit, lenses that lead somewhere, names
-- right after a dot.
local steps = dofile(vim.env.HEMLINE_SESSION)
local say, wait, has, ask = steps.say, steps.wait, steps.has, steps.ask

local function go_to(words)
  vim.api.nvim_win_set_cursor(0, { 1, 0 })
  assert(vim.fn.search('\\V' .. words, 'c') > 0, words)
end

--- Runs the lens of a line that says something, as a user does.
local function run_lens(words, says)
  go_to(words)
  local row = vim.api.nvim_win_get_cursor(0)[1] - 1
  wait('a lens on ' .. words, function()
    vim.lsp.codelens.refresh() -- again: what it shows may be of the text before
    for _, lens in ipairs(vim.lsp.codelens.get(0)) do
      if lens.range.start.line == row and lens.command.title:find(says) then return true end
    end
  end)
  vim.lsp.codelens.run()
end

steps.run(function()
  wait('the server', function() return #vim.lsp.get_active_clients() == 1 end)
  ask('textDocument/documentSymbol', { textDocument = vim.lsp.util.make_text_document_params() })

  go_to('0.8 mm // the lid')
  say('hover', ask('textDocument/hover', vim.lsp.util.make_position_params()).contents.value)

  -- The lens over the shop leads to the finding.
  local row = vim.fn.search('wrap *top') - 1
  local line = vim.api.nvim_buf_get_lines(0, row, row + 1, false)[1]
  local from, to = line:find('0%.8')
  vim.api.nvim_buf_set_text(0, row, from - 1, row, to, { '0.3' })
  wait('a wrap that is too narrow', has('wrap_land'))
  run_lens('use "shops/standard.hem"', '1 unbuildable')
  wait('the finding', function() return vim.api.nvim_win_get_cursor(0)[1] == row + 1 end)
  say('led to', vim.api.nvim_get_current_line())

  -- The lens over the board asks which open query to answer.
  vim.api.nvim_buf_set_lines(0, -1, -1, false, { '' })
  local before = vim.fn.search('revision', 'n')
  vim.api.nvim_buf_set_lines(0, before - 1, before, false, {})
  wait('the board without its revision', function() return vim.fn.search('revision', 'n') == 0 end)
  vim.fn.inputlist = function(list)
    for i, title in ipairs(list) do
      if title:find('revision') then return i - 2 end -- two lines stand before the first choice
    end
    return 0
  end
  vim.ui.select = function(items, _, choose) -- of several lenses on the line
    for i, item in ipairs(items) do
      if vim.inspect(item):find('open quer') then return choose(item, i) end
    end
  end
  run_lens('board slope_receiver', '1 open query')
  wait('the answer', function() return vim.fn.search('revision ""', 'n') > 0 end)
  say('answered', vim.fn.getline(vim.fn.search('revision', 'n')))
  wait('the cursor to be there', function() return vim.fn.getline('.'):find('revision') ~= nil end)
  say('column', vim.api.nvim_win_get_cursor(0)[2])

  -- Right after a dot.
  vim.api.nvim_buf_set_lines(0, -1, -1, false, { 'let half = south.' })
  vim.api.nvim_win_set_cursor(0, { vim.api.nvim_buf_line_count(0), 17 })
  local params = vim.lsp.util.make_position_params()
  params.position.character = 17
  local answer = ask('textDocument/completion', params)
  say('after a dot', vim.tbl_map(function(item) return item.label .. ' for ' .. item.textEdit.range.start.character end, answer.items))
end)
