" One user's session with ALE on an example board.
source $HEMLINE_STEPS

function! s:found() abort
  return map(copy(ale#engine#GetLoclist(bufnr(''))), {_, d -> {
  \ 'line': d.lnum, 'from': d.col, 'to': get(d, 'end_col', 0), 'type': d.type, 'code': get(d, 'code', ''), 'text': d.text}})
endfunction

function! s:has(code) abort
  return !empty(filter(s:found(), {_, d -> d.code ==# a:code}))
endfunction

function! s:hover() abort
  return bufexists('ALEPreviewWindow') ? getbufline('ALEPreviewWindow', 1, '$') : []
endfunction

" What a user types at a question.
function! s:answer(text) abort
  runtime autoload/ale/util.vim
  let s:typed = a:text
  function! ale#util#Input(...) abort
    return s:typed
  endfunction
endfunction

function! s:replace(from, to) abort
  call cursor(1, 1)
  let l:line = search('wrap *top')
  call setline(l:line, substitute(getline(l:line), a:from, a:to, ''))
  doautocmd TextChanged
  ALELint
endfunction

function! s:session() abort
  call Say('filetype', &filetype)
  call Say('comment', &commentstring)
  let l:file = bufnr('')
  call s:replace('0\.8', '0.3')
  call WaitFor('a wrap that is too narrow', {-> s:has('wrap_land')})
  call Say('narrowed', s:found())

  call s:replace('0\.3', '0.8')
  call WaitFor('it to go', {-> empty(s:found())})
  call Say('mended', s:found())

  call cursor(1, 1)
  call search('plating wall')
  call search('wall')
  ALEHover
  call WaitFor('the hover', {-> !empty(s:hover())})
  call Say('hover', s:hover())
  execute bufwinnr(l:file) . 'wincmd w'

  call search('like \zsscar')
  ALEGoToDefinition
  call WaitFor('the definition', {-> getline('.') =~# '^typical scar'})
  call Say('definition', getline('.'))

  call search('like \zsscar')
  ALEFindReferences -quickfix
  call WaitFor('the references', {-> !empty(getqflist())})
  call Say('references', map(getqflist(), {_, d -> getline(d.lnum)}))

  call s:replace('0\.8', '0.3')
  call WaitFor('it once more', {-> s:has('wrap_land')})
  call cursor(search('wrap *top'), 3)
  call s:answer('1')
  ALECodeAction
  call WaitFor('the fix', {-> getline('.') =~# 'top bottom 0\.4 mm'})
  call Say('fixed', getline('.'))

  ALEStopAllLSPs
  call Say('end', 1)
endfunction

call Play(function('s:session'))
