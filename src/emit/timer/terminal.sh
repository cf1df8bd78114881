# shellcheck shell=sh disable=SC2034,SC2154 # the parts of the timer share their variables
#
# The terminal: keys one at a time, a screen that is painted over itself, the bell. Without a terminal: plain lines.

terminal_begin() {
	has_keys=0 paints=0 tty_saved='' tty_tenths='' bell_device='' frame_style=line
	{ true >/dev/tty; } 2>/dev/null && bell_device=/dev/tty
	[ -t 0 ] || return 0
	tty_saved=$(stty -g 2>/dev/null) || return 0
	has_keys=1
	# A timer that was killed leaves single keys behind.
	tty_state=$(stty -a 2>/dev/null) || tty_state=''
	case ${tty_state} in
	*-icanon*) tty_saved=sane ;;
	*) ;;
	esac
	[ -t 1 ] || return 0
	case ${TERM:-dumb} in
	dumb) return 0 ;;
	*) paints=1 ;;
	esac
	terminal_measure
}

# Keys come singly and unseen; Ctrl-S cannot freeze the screen, Ctrl-Z and Ctrl-\ cannot stop the timer.
terminal_take_keys() {
	if ! stty -icanon -echo min 0 time 10 2>/dev/null; then
		has_keys=0 paints=0
		return 0
	fi
	tty_tenths=10
	stty -ixon susp undef quit undef 2>/dev/null || true
}

terminal_keys() { # TENTHS to wait for a key
	[ "${1}" != "${tty_tenths}" ] || return 0
	stty min 0 time "${1}" 2>/dev/null || true
	tty_tenths=${1}
}

# Takes the screen: no line wraps, no cursor.
terminal_take() {
	[ "${paints}" -eq 1 ] || return 0
	screen_is_taken=1
	printf '%s' "${escape}[?25l${escape}[?7l${escape}[H${escape}[2J"
}

terminal_restore() {
	if [ "${screen_is_taken}" -eq 1 ]; then
		screen_is_taken=0
		{ printf '%s' "${escape}[?7h${escape}[?25h${newline}"; } 2>/dev/null || true
	fi
	[ -z "${tty_tenths}" ] || stty "${tty_saved}" 2>/dev/null || true
	tty_tenths=''
}

terminal_measure() {
	columns=80 rows=24
	size=$(stty size 2>/dev/null) || size=''
	measured_columns=${size#* } measured_rows=${size% *}
	! is_count "${measured_columns}" || [ "${measured_columns}" -eq 0 ] || columns=${measured_columns}
	! is_count "${measured_rows}" || [ "${measured_rows}" -eq 0 ] || rows=${measured_rows}
	! is_count "${columns_given}" || [ "${columns_given}" -ge "${columns}" ] ||
		[ "${columns_given}" -eq 0 ] || columns=${columns_given}
	measured_at=${now:-0} is_roomy=0
	[ "${rows}" -lt 24 ] || [ "${columns}" -lt 60 ] || is_roomy=1
	[ "${rows}" -lt 32 ] || is_roomy=1
}

# Waits for a key at most so long; sets key, empty where none came. The letter behind it keeps a line end.
key_read() { # TENTHS
	terminal_keys "${1}"
	{ key=$(
		dd bs=1 count=1
		echo x
	); } 2>/dev/null
	key=${key%x}
	case ${key} in
	"${escape}")
		# The rest of an arrow or function key.
		keys_drop
		;;
	"${newline}" | "${carriage_return}" | ' ') key=enter ;;
	*) ;;
	esac
}

# What was typed before a question is no answer to it.
keys_drop() {
	terminal_keys 0
	dd bs=512 count=1 >/dev/null 2>&1 || true
}

# By name, so that a cue can have a sound of its own: WETSIDE_BELL='play "$1.wav"'.
bell_ring() { # KIND
	if [ -n "${bell_device}" ]; then
		{ printf '\a' >"${bell_device}"; } 2>/dev/null || true
	fi
	if [ -n "${bell_command}" ]; then
		sh -c "${bell_command}" wetside-bell "${1}" </dev/null >/dev/null 2>&1 &
	fi
}

# A line where nothing is painted.
say() { # TEXT
	[ "${paints}" -eq 0 ] || return 0
	printf '%s\n' "${1}" || true
}

# --- a frame: the whole screen, written at once ---

frame_begin() { # ROWS at most
	frame='' frame_rows=0 frame_most=${1}
}

frame_line() { # TEXT
	[ "${frame_rows}" -lt "${frame_most}" ] || return 0
	frame_rows=$((frame_rows + 1))
	frame="${frame}${escape}[K${1}${newline}"
}

frame_gap() {
	[ "${is_roomy}" -eq 0 ] || frame_line ''
}

# In reverse, across the whole line.
frame_band() { # TEXT
	band=${1}
	while [ "${#band}" -lt "${columns}" ]; do
		band="${band}    "
	done
	frame_line "${escape}[7m${band}${escape}[0m"
}

frame_bold() { # TEXT
	frame_line "${escape}[1m${1}${escape}[0m"
}

# Lines that break at spaces; those after the first begin with as many spaces as INDENT is long. Bytes are counted where
# the shell counts bytes, so a line may break early, never late.
frame_text() { # INDENT TEXT
	text_line=${1} text_indent=${1} text_margin=''
	while [ "${#text_margin}" -lt "${#text_indent}" ]; do
		text_margin="${text_margin} "
	done
	# Without a glob and with the standard separators: words.
	# shellcheck disable=SC2086
	set -- ${2}
	for text_word in "$@"; do
		if [ $((${#text_line} + ${#text_word} + 1)) -gt "${columns}" ] &&
			[ "${text_line}" != "${text_indent}" ]; then
			"frame_${frame_style}" "${text_line}"
			text_line=${text_margin} text_indent=${text_margin}
		fi
		text_line="${text_line} ${text_word}"
	done
	[ "${text_line}" = "${text_indent}" ] || "frame_${frame_style}" "${text_line}"
}

frame_show() { # FRAME
	{ printf '%s' "${escape}[H${1}${escape}[J"; } 2>/dev/null || true
}

# Five rows of large figures; a figure is three dots wide, a dot two columns where they fit.
frame_figures() { # TEXT
	dots=2
	[ $((${#1} * 8)) -le "${columns}" ] || dots=1
	figure_row=1
	while [ "${figure_row}" -le 5 ]; do
		figure_line='  '
		figure_rest=${1}
		while [ -n "${figure_rest}" ]; do
			figure_add "${figure_rest%"${figure_rest#?}"}" "${figure_row}"
			figure_rest=${figure_rest#?}
		done
		frame_line "${figure_line}"
		figure_row=$((figure_row + 1))
	done
}

figure_add() { # CHARACTER ROW
	case ${1} in
	0) figure_shape='### #.# #.# #.# ###' ;;
	1) figure_shape='.#. ##. .#. .#. ###' ;;
	2) figure_shape='### ..# ### #.. ###' ;;
	3) figure_shape='### ..# .## ..# ###' ;;
	4) figure_shape='#.# #.# ### ..# ..#' ;;
	5) figure_shape='### #.. ### ..# ###' ;;
	6) figure_shape='### #.. ### #.# ###' ;;
	7) figure_shape='### ..# .#. .#. .#.' ;;
	8) figure_shape='### #.# ### #.# ###' ;;
	9) figure_shape='### #.# ### ..# ###' ;;
	:) figure_shape='. # . # .' ;;
	*) figure_shape='. . . . .' ;;
	esac
	figure_skip=${2}
	while [ "${figure_skip}" -gt 1 ]; do
		figure_shape=${figure_shape#* }
		figure_skip=$((figure_skip - 1))
	done
	figure_shape=${figure_shape%% *}
	while [ -n "${figure_shape}" ]; do
		case ${figure_shape} in
		'#'*) figure_dot=${block} ;;
		*) figure_dot=' ' ;;
		esac
		[ "${dots}" -eq 1 ] || figure_dot=${figure_dot}${figure_dot}
		figure_line=${figure_line}${figure_dot}
		figure_shape=${figure_shape#?}
	done
	figure_line="${figure_line}  "
	[ "${dots}" -eq 2 ] || figure_line=${figure_line%?}
}
