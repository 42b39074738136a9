-- Starts the hemline language server for .hem files. Neovim 0.7 and newer.
local M = {}

local options = {
  -- The program and how to start it as a server.
  cmd = { 'hemline', 'lsp' },
  -- Called with (client, buffer) for each buffer: the place for key mappings.
  on_attach = nil,
}

local client_id
local warned = false

--- Sets options; call it before the first .hem file is opened.
function M.setup(user)
  options = vim.tbl_extend('force', options, user or {})
end

local function start()
  local config = {
    name = 'hemline',
    cmd = options.cmd,
    root_dir = vim.fn.getcwd(),
    on_attach = options.on_attach,
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

return M
