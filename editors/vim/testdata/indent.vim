" Takes all indentation out of a text and lets the editor put it back.
source $HEMLINE_STEPS

function! s:session() abort
  let l:before = getline(1, '$')
  silent %left
  let l:left = getline(1, '$')
  silent normal! gg=G
  call Say('moved', l:left !=# l:before)
  call Say('back', getline(1, '$') ==# l:before)
  call Say('comment', &commentstring)
endfunction

call Play(function('s:session'))
