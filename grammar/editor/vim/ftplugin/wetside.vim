" What an editor needs to know of a recipe besides its colours.
if exists('b:did_ftplugin')
  finish
endif
let b:did_ftplugin = 1

setlocal commentstring=#\ %s
setlocal comments=:#
setlocal iskeyword=@,48-57,-,192-255
setlocal suffixesadd=.wet
setlocal include=^\\s*use\\s\\+\"\\zs[^\"]*
setlocal expandtab shiftwidth=2 softtabstop=2
if !exists('current_compiler')
  compiler wetside
endif

let b:undo_ftplugin = 'setlocal commentstring< comments< iskeyword< suffixesadd< include< expandtab< shiftwidth< softtabstop<'
