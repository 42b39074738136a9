-- What the sessions share: each prints what the editor knows at each step, a
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

local function run(session)
  local ok, failure = pcall(session)
  if not ok then
    io.stderr:write(tostring(failure), '\n')
    vim.cmd('cquit')
  end
  vim.cmd('qall!')
end

return { say = say, diagnostics = diagnostics, wait = wait, has = has, ask = ask, run = run }
