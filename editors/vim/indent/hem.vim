if exists('b:did_indent')
  finish
endif
let b:did_indent = 1

setlocal indentexpr=HemIndent() indentkeys=0{,0},0),!^F,o,O
let b:undo_indent = 'setlocal indentexpr< indentkeys<'

if exists('*HemIndent')
  finish
endif

" How many braces a line leaves open, without what stands in texts and comments.
function! s:open(line) abort
  let l:code = substitute(a:line, '"\%(\\["\\]\|[^"]\)*"\|//.*$', '', 'g')
  return [count(l:code, '{') - count(l:code, '}'), l:code =~# '^\s*}']
endfunction

" A step in behind each open brace, a step out for a line that begins with a
" closing one: as `hemline fmt` has it.
function! HemIndent() abort
  let l:before = prevnonblank(v:lnum - 1)
  if l:before == 0
    return 0
  endif
  let [l:open, l:closed_first] = s:open(getline(l:before))
  let l:steps = l:open + l:closed_first - s:open(getline(v:lnum))[1]
  return max([0, indent(l:before) + l:steps * shiftwidth()])
endfunction
