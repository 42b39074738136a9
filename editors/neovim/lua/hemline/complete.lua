-- Completion as you type, for Neovim before 0.11, which has none of its own.
local M = {}

--- What the server offers, as Neovim takes it: what begins with what is typed
--- already, in the server's order.
local function matches(items, typed)
  local list = {}
  for _, item in ipairs(items) do
    local word = item.textEdit and item.textEdit.newText or item.insertText or item.label
    if vim.startswith(word, typed) and word ~= typed then
      local about = item.documentation
      list[#list + 1] = {
        word = word, abbr = item.label, menu = item.detail or '', dup = 1,
        info = type(about) == 'table' and about.value or about or '',
      }
    end
  end
  return list
end

--- The byte, from 0, that the server's first offer begins at; else that of the
--- word before the cursor.
local function start_of(items, line, column, encoding)
  local edit = items[1] and items[1].textEdit
  if edit then
    local ok, byte = pcall(vim.str_byteindex, line, edit.range.start.character, encoding ~= 'utf-32')
    return encoding == 'utf-8' and edit.range.start.character or ok and byte or column
  end
  return vim.fn.match(line:sub(1, column), [[\k*$]])
end

--- Shows a list without choosing from it, whatever the user has set for lists
--- that he calls for himself.
local function show(column, list)
  local before = vim.o.completeopt
  vim.o.completeopt = 'menuone,noselect'
  vim.fn.complete(column + 1, list)
  vim.api.nvim_create_autocmd('CompleteDone', { once = true, callback = function() vim.o.completeopt = before end })
end

local function ask(client, buffer)
  local at = vim.api.nvim_win_get_cursor(0)
  local line = vim.api.nvim_get_current_line()
  client.request('textDocument/completion', vim.lsp.util.make_position_params(0, client.offset_encoding), function(failure, result)
    local now = vim.api.nvim_win_get_cursor(0)
    if failure or not result or vim.api.nvim_get_current_buf() ~= buffer or vim.fn.mode() ~= 'i' or vim.fn.pumvisible() == 1
      or now[1] ~= at[1] or now[2] ~= at[2] or vim.api.nvim_get_current_line() ~= line then
      return -- it was typed on: the next question is on its way
    end
    local items = result.items or result
    local from = start_of(items, line, at[2], client.offset_encoding)
    local list = matches(items, line:sub(from + 1, at[2]))
    if #list > 0 then
      show(from, list)
    end
  end, buffer)
end

--- Brings completion up in a buffer after each letter and each character that
--- the server names, where none is shown.
function M.enable(client, buffer)
  local provider = client.server_capabilities.completionProvider or {}
  local triggers = table.concat(provider.triggerCharacters or {})
  local group = vim.api.nvim_create_augroup('hemline_complete_' .. buffer, { clear = true })
  vim.api.nvim_create_autocmd('TextChangedI', { group = group, buffer = buffer, callback = function()
    local column = vim.api.nvim_win_get_cursor(0)[2]
    local typed = vim.api.nvim_get_current_line():sub(column, column)
    if typed:match('[%w_\128-\255]') or typed ~= '' and triggers:find(typed, 1, true) then
      ask(client, buffer)
    end
  end })
end

return M
