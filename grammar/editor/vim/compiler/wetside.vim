" :make checks the recipe and goes to what was found. %v: the program counts columns as they stand on the screen.
if exists('current_compiler')
  finish
endif
let current_compiler = 'wetside'

if exists(':CompilerSet') != 2
  command -nargs=* CompilerSet setlocal <args>
endif
CompilerSet makeprg=wetside\ check\ --color=never\ --max-errors=0\ %:S
CompilerSet errorformat=%f:%l:%v:\ %trror:\ %m,%f:%l:%v:\ %tarning:\ %m,%f:%l:%v:\ %tint:\ %m,%f:%l:%v:\ %tote:\ %m,%-G%.%#
