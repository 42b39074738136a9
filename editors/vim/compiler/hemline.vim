if exists('current_compiler')
  finish
endif
let current_compiler = 'hemline'

CompilerSet makeprg=hemline\ check\ %:S
CompilerSet errorformat=%-G\ %.%#,%f:%l:%c:\ %m,%-G%.%#
