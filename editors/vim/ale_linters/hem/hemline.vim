" The hemline language server for ALE.
call ale#Set('hem_hemline_executable', 'hemline')

" The folder of version control, else the file's own: files that a text uses
" are found beside it, whatever the root.
function! ale_linters#hem#hemline#GetProjectRoot(buffer) abort
  let l:git = ale#path#FindNearestDirectory(a:buffer, '.git')
  return empty(l:git) ? expand('#' . a:buffer . ':p:h') : fnamemodify(l:git, ':h:h')
endfunction

call ale#linter#Define('hem', {
\   'name': 'hemline',
\   'lsp': 'stdio',
\   'executable': {buffer -> ale#Var(buffer, 'hem_hemline_executable')},
\   'command': '%e lsp',
\   'language': 'hem',
\   'project_root': function('ale_linters#hem#hemline#GetProjectRoot'),
\})
