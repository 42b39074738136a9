vim.bo.commentstring = '// %s'
vim.bo.comments = '://'
vim.b.undo_ftplugin = 'setlocal commentstring< comments<'
require('hemline').attach(vim.api.nvim_get_current_buf())
vim.api.nvim_buf_create_user_command(0, 'HemlinePicture', function() require('hemline').picture() end, {
  desc = 'Show the live picture of the board', force = true,
})
