vim.bo.commentstring = '// %s'
vim.bo.comments = '://'
vim.b.undo_ftplugin = 'setlocal commentstring< comments<'
require('hemline').attach(vim.api.nvim_get_current_buf())
