-- Starts the hemline language server for .hem files. Neovim 0.7 and newer.
local M = {}

local options = {
  -- The program and how to start it as a server.
  cmd = { 'hemline', 'lsp' },
  -- Completion comes up as you type; false leaves it to i_CTRL-X_CTRL-O or to
  -- another plugin.
  complete = true,
  -- Called with (client, buffer) for each buffer: the place for key mappings.
  on_attach = nil,
  -- Called with the address of a picture's page: opens it in a browser.
  open = nil,
}

local client_id
local warned = false

--- Sets options; call it before the first .hem file is opened.
function M.setup(user)
  options = vim.tbl_extend('force', options, user or {})
end

--- Opens an address in the system's browser; false where that cannot be told to.
local function browse(address)
  if options.open then
    return options.open(address) ~= false
  end
  if vim.ui.open then
    return vim.ui.open(address) ~= nil
  end
  for _, opener in ipairs({ 'xdg-open', 'open' }) do
    if vim.fn.executable(opener) == 1 then
      return vim.fn.jobstart({ opener, address }, { detach = true }) > 0
    end
  end
  return false
end

--- Shows what the server names: a page outside, or a place of a text. Neovim
--- before 0.8 has no answer to this of its own.
local function show_document(_, params, context)
  if params.external then
    return { success = browse(params.uri) }
  end
  local client = vim.lsp.get_client_by_id(context.client_id)
  local buffer = vim.uri_to_bufnr(params.uri)
  local window = vim.fn.bufwinid(buffer)
  if window ~= -1 and params.takeFocus then
    vim.api.nvim_set_current_win(window)
  end
  local range = params.selection or { start = { line = 0, character = 0 }, ['end'] = { line = 0, character = 0 } }
  if vim.lsp.util.show_document then
    vim.lsp.util.show_document({ uri = params.uri, range = range }, client.offset_encoding, { focus = params.takeFocus })
  else
    vim.lsp.util.jump_to_location({ uri = params.uri, range = range }, client.offset_encoding)
  end
  return { success = true }
end

--- Sets completion up for a buffer. Neovim 0.11 brings up its own at the
--- characters that the server names; before, the plugin does.
local function attached(client, buffer)
  vim.bo[buffer].omnifunc = 'v:lua.vim.lsp.omnifunc'
  if options.complete then
    if vim.fn.has('nvim-0.11') == 1 then
      vim.lsp.completion.enable(true, client.id, buffer, { autotrigger = true })
    else
      require('hemline.complete').enable(client, buffer)
    end
  end
  if options.on_attach then
    options.on_attach(client, buffer)
  end
end

local function start()
  local capabilities = vim.lsp.protocol.make_client_capabilities()
  capabilities.window = capabilities.window or {}
  capabilities.window.showDocument = { support = true }
  local config = {
    name = 'hemline',
    cmd = options.cmd,
    root_dir = vim.fn.getcwd(),
    on_attach = attached,
    capabilities = capabilities,
    handlers = { ['window/showDocument'] = show_document },
  }
  if vim.fn.has('nvim-0.11') == 1 then
    return vim.lsp.start(config, { attach = false })
  end
  return vim.lsp.start_client(config)
end

--- Attaches the server to a buffer, starting it if it is not running. One
--- server serves all buffers, so that what is not yet saved in one file counts
--- in those that use it.
function M.attach(buffer)
  if vim.fn.executable(options.cmd[1]) == 0 then
    if not warned then
      warned = true
      vim.notify(
        ('hemline: cannot find the program "%s". Install hemline, or name it with '):format(options.cmd[1])
          .. 'require("hemline").setup({ cmd = { "/path/to/hemline", "lsp" } })',
        vim.log.levels.WARN
      )
    end
    return
  end
  local client = client_id and vim.lsp.get_client_by_id(client_id)
  if not client then
    client_id = start()
  end
  if client_id then
    vim.lsp.buf_attach_client(buffer, client_id)
  end
end

--- Calls a client's method; they have become methods proper with 0.11.
local function call(client, method, ...)
  if vim.fn.has('nvim-0.11') == 1 then
    return client[method](client, ...)
  end
  return client[method](...)
end

--- Tells the server where the cursor stands, which a picture marks.
local function tell_cursor()
  local client = client_id and vim.lsp.get_client_by_id(client_id)
  if client and vim.bo.filetype == 'hem' then
    call(client, 'notify', 'hemline/cursor', vim.lsp.util.make_position_params(0, client.offset_encoding))
  end
end

--- Opens the live picture of the board in the present buffer.
function M.picture()
  local client = client_id and vim.lsp.get_client_by_id(client_id)
  if not client or vim.bo.filetype ~= 'hem' then
    vim.notify('hemline: a picture is shown of a .hem file that its server knows', vim.log.levels.WARN)
    return
  end
  local at = vim.lsp.util.make_position_params(0, client.offset_encoding)
  call(client, 'request', 'workspace/executeCommand', {
    command = 'hemline.picture', arguments = { at.textDocument.uri, at.position },
  }, function(failure)
    if failure then
      vim.notify('hemline: ' .. failure.message, vim.log.levels.ERROR)
      return
    end
    local group = vim.api.nvim_create_augroup('hemline_picture', { clear = true })
    vim.api.nvim_create_autocmd({ 'CursorMoved', 'CursorMovedI', 'BufEnter' }, { group = group, pattern = '*.hem', callback = tell_cursor })
  end, vim.api.nvim_get_current_buf())
end

return M
