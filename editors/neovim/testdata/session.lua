-- Plays one user's session and prints what the editor knows at each step, a
-- line each, as NAME TAB JSON. Errors end the editor with code 1.
local function say(name, value)
  io.stdout:write(name, '\t', vim.json and vim.json.encode(value) or vim.fn.json_encode(value), '\n')
end

local function diagnostics()
  local list = {}
  for _, d in ipairs(vim.diagnostic.get(0)) do
    list[#list + 1] = {
      line = d.lnum, from = d.col, to = d.end_col,
      severity = vim.diagnostic.severity[d.severity], code = d.code, source = d.source, message = d.message,
    }
  end
  return list
end

local function wait(what, ready)
  if not vim.wait(10000, ready, 5) then
    error('waited in vain for ' .. what .. '; diagnostics: ' .. vim.inspect(diagnostics()))
  end
end

local function has(code)
  return function()
    for _, d in ipairs(vim.diagnostic.get(0)) do
      if d.code == code then return true end
    end
    return false
  end
end

local function ask(method, params)
  local answers, failure = vim.lsp.buf_request_sync(0, method, params, 10000)
  if failure then error(method .. ': ' .. failure) end
  for _, answer in pairs(answers) do
    if answer.err then error(method .. ': ' .. vim.inspect(answer.err)) end
    return answer.result or vim.NIL
  end
end

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

local ok, failure = pcall(session)
if not ok then
  io.stderr:write(tostring(failure), '\n')
  vim.cmd('cquit')
end
vim.cmd('qall!')
