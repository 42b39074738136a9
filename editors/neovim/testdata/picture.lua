-- The picture, as a page would use it: over the address that the plugin is
-- told to open.
local steps = dofile(vim.env.HEMLINE_SESSION)
local say, wait = steps.say, steps.wait

--- Sends a request over a socket of its own; what comes back grows in .text.
local function send(host, port, text)
  local answer = { text = '', ended = false }
  local socket = vim.loop.new_tcp()
  socket:connect(host, tonumber(port), function(failure)
    if failure then error(failure) end
    socket:write(text)
    socket:read_start(function(_, data)
      if data then answer.text = answer.text .. data else answer.ended = true end
    end)
  end)
  return answer
end

local function line_of(pattern)
  for i, text in ipairs(vim.api.nvim_buf_get_lines(0, 0, -1, false)) do
    if text:find(pattern) then return i end
  end
end

local function session()
  local address
  require('hemline').setup({ open = function(a) address = a end })
  wait('the server', function() return #(vim.lsp.get_clients or vim.lsp.get_active_clients)() == 1 end)
  vim.api.nvim_win_set_cursor(0, { line_of('^connector antenna '), 2 })
  vim.cmd('HemlinePicture')
  wait('the page', function() return address end)
  say('address', address)

  local host, port, path = address:match('^http://([%d.]+):(%d+)(/.*)$')
  local site = host .. ':' .. port
  local events = send(host, port, ('GET %sevents HTTP/1.1\r\nHost: %s\r\n\r\n'):format(path, site))
  wait('the board', function() return events.text:find('"id":"connector antenna"', 1, true) end)
  wait('the cursor', function() return events.text:find('data: "connector antenna"', 1, true) end)

  local body = '{"item":"connector reference"}'
  local click = send(host, port, ('POST %sgo HTTP/1.1\r\nHost: %s\r\nOrigin: http://%s\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s')
    :format(path, site, site, #body, body))
  wait('an answer', function() return click.text ~= '' end)
  say('clicked', tonumber(click.text:match('^HTTP/1.1 (%d+)')))
  wait('the cursor to move', function() return vim.api.nvim_get_current_line():find('^connector reference ') end)
  say('line', vim.api.nvim_get_current_line())
  say('column', vim.fn.col('.'))

  -- A headless editor has no screen whose redrawing would notice that the cursor moved.
  vim.api.nvim_win_set_cursor(0, { line_of('^tab w '), 0 })
  vim.cmd('doautocmd CursorMoved')
  wait('the cursor on the page', function() return events.text:find('data: "tab w"', 1, true) end)
  say('marked', true)
end

steps.run(session)
