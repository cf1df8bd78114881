" Colours of a recipe. The lists are made from the program's tables by tests/structure/editor_grammars.py --write.
if exists('b:current_syntax')
  finish
endif

syntax case match
syntax iskeyword @,48-57,-,178,192-255

" made from grammar/reference.ebnf: what is followed by a name of one's own
syntax keyword wetsideDeclaration nextgroup=wetsideName skipwhite tank graduate heater dryer thermometer solution film
syntax keyword wetsideDeclaration nextgroup=wetsideName skipwhite process step
" end

" made from src/syntax/words.def: every other keyword
syntax keyword wetsideKeyword wetside use day roll from allow note holds takes or fill drain emptied through lid
syntax keyword wetsideKeyword bottom reels lowered bath cools to within in a room at absorbs carries per reel gives
syntax keyword wetsideKeyword stores rolls for up length reads correction checked role kit makes stock one-shot reuse
syntax keyword wetsideKeyword replenish dilute mix formula water add stirring drops stir stand top blend usable
syntax keyword wetsideKeyword capacity lengthen added compounded least keeps full part hazards none sheet dated waste
syntax keyword wetsideKeyword pH clears fresh now family backing emulsion made develops push pull load rescue washless
syntax keyword wetsideKeyword wet time under starts first pour when includes excludes draining without after as
syntax keyword wetsideKeyword running agitate then every continuously tap agitation measure mean flow changes expose
syntax keyword wetsideKeyword each side lights on by maker coefficient activation energy round hand mixed done before
syntax keyword wetsideKeyword of exposures start finish break runs tanks hang take down temper ready clean test dry
syntax keyword wetsideKeyword clock ahead behind utc tested format needs develop decided origin together urgent
syntax keyword wetsideKeyword precious condition mark set aside
syntax match wetsideKeyword /\<contains\>/
" end

syntax match wetsideName /[[:alpha:]][^[:space:]{};,#"]*/ contained
syntax match wetsideNumber /\%(^\|[^[:alnum:]_-]\)\@1<=[-+]\=\d\%([0-9.:+-]*\d\)\=/
" made from src/syntax/units.def: a unit stands behind its number
syntax match wetsideUnit /\%(\d\s*\)\@20<=\%(imp\s\+gallons\|UK\s\+gallons\|US\s\+gallons\|imp\s\+gallon\|imp\s\+quarts\|UK\s\+gallon\|UK\s\+quarts\|US\s\+gallon\|US\s\+quarts\|imp\s\+fl\s\+oz\|imp\s\+pints\|imp\s\+quart\|UK\s\+fl\s\+oz\|UK\s\+pints\|UK\s\+quart\|US\s\+fl\s\+oz\|US\s\+pints\|US\s\+quart\|imp\s\+floz\|imp\s\+pint\|UK\s\+floz\|UK\s\+pint\|US\s\+floz\|US\s\+pint\|imp\s\+gal\|minutes\|percent\|seconds\|UK\s\+gal\|US\s\+gal\|grains\|imp\s\+pt\|imp\s\+qt\|inches\|kJ\/mol\|liters\|litres\|meters\|metres\|minute\|months\|ounces\|pounds\|second\|J\/mol\|UK\s\+pt\|UK\s\+qt\|US\s\+pt\|US\s\+qt\|grain\|grams\|hours\|liter\|litre\|meter\|metre\|month\|ounce\|pound\|sq\s\+in\|weeks\|days\|degC\|degF\|feet\|foot\|gram\|hour\|inch\|week\|cm2\|cm²\|day\|in2\|in²\|lbs\|min\|sec\|cL\|cc\|cl\|cm\|ft\|gr\|kg\|lb\|mL\|mg\|ml\|mm\|ms\|oz\|°C\|°F\|%\|C\|F\|K\|L\|d\|g\|h\|l\|m\|s\|℃\|℉\)\ze\%([^[:alnum:]]\|$\)/
" end

syntax match wetsideOperator /±\|+-\|\.\.\|–/
syntax match wetsideEscape /\\./ contained
syntax region wetsideString start=/"/ skip=/\\./ end=/"/ oneline contains=wetsideEscape
syntax match wetsideComment /#.*/ contains=@Spell

highlight default link wetsideDeclaration Structure
highlight default link wetsideName Identifier
highlight default link wetsideKeyword Keyword
highlight default link wetsideNumber Number
highlight default link wetsideUnit Type
highlight default link wetsideOperator Operator
highlight default link wetsideEscape SpecialChar
highlight default link wetsideString String
highlight default link wetsideComment Comment

let b:current_syntax = 'wetside'
