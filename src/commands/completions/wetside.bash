# bash completion for wetside. The program itself says what may come next (`wetside complete`), so nothing is listed here.

_wetside()
{
	local program=${COMP_WORDS[0]} word='' glued='' line last before=''
	local -a words=()
	local i
	COMPREPLY=()

	# bash parts words at "=", the program does not. Quotes are taken off a finished word.
	for ((i = 1; i <= COMP_CWORD; i++)); do
		word=${COMP_WORDS[i]}
		if [[ $word == '=' && ${#words[@]} -gt 0 && ${words[${#words[@]} - 1]} == --* ]]; then
			words[${#words[@]} - 1]+='='
			glued=yes
			continue
		fi
		word=${word//[\\\"\']/}
		[[ ${word:0:2} == "~"/ ]] && word=$HOME${word:1}
		if [[ $glued ]]; then
			words[${#words[@]} - 1]+=$word
		else
			words+=("$word")
		fi
		glued=''
	done
	last=${words[${#words[@]} - 1]}
	[[ $last == --*=* ]] && before=${last%%=*}=

	while IFS= read -r line; do
		case $line in
		:recipes | :files)
			compopt -o filenames 2>/dev/null
			set --
			[[ $line == :recipes ]] && set -- -X '!*.wet'
			while IFS= read -r line; do
				COMPREPLY+=("$line")
			done < <(compgen -f "$@" -- "${last#"$before"}"; compgen -d -- "${last#"$before"}")
			;;
		:folders)
			compopt -o filenames 2>/dev/null
			while IFS= read -r line; do
				COMPREPLY+=("$line")
			done < <(compgen -d -- "${last#"$before"}")
			;;
		*)
			line=${line%%$'\t'*}
			[[ $line == *= ]] && compopt -o nospace 2>/dev/null
			line=${line#"$before"}
			[[ $line == *[[:space:]]* ]] && printf -v line '%q' "$line"
			COMPREPLY+=("$line")
			;;
		esac
	done < <("$program" complete -- "${words[@]}" 2>/dev/null)
}

complete -F _wetside wetside
