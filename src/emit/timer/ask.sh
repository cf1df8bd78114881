# shellcheck shell=sh disable=SC2034,SC2154 # the parts of the timer share their variables
#
# Questions and keys. Whatever is asked, the clock goes on: every wait for a key is a tick, and a tick fires the cues
# that are due. Without a keyboard nothing is asked.

# One look at the clock, the cues, the screen and the keyboard; sets key: empty, enter, interrupt or a character.
tick() {
	clock_read
	[ "${is_counting}" -eq 0 ] || cues_fire 0
	[ "${paints}" -eq 0 ] || panel_paint
	if [ "${is_interrupted}" -eq 0 ]; then
		tick_tenths
		key_read "${tenths}"
		[ -n "${key}" ] || tick_terminal
	fi
	if [ "${is_interrupted}" -eq 1 ]; then
		is_interrupted=0 key=interrupt
	fi
}

# Until the figures on the screen change or the next cue is due, whichever comes first, at most a second.
tick_tenths() {
	tick_origin=0
	[ "${is_counting}" -eq 0 ] || tick_origin=${pour_at}
	[ "${mode}" != lead ] || tick_origin=${pour_due}
	tick_rest=$(((now - tick_origin) % 100))
	[ "${tick_rest}" -ge 0 ] || tick_rest=$((tick_rest + 100))
	tick_rest=$((100 - tick_rest))
	if [ "${is_counting}" -eq 1 ] && cue_peek && [ $((cue_due - now)) -lt "${tick_rest}" ]; then
		tick_rest=$((cue_due - now))
	fi
	tenths=$(((tick_rest / speed + 9) / 10))
	[ "${tenths}" -ge 1 ] || tenths=1
	[ "${tenths}" -le 10 ] || tenths=10
	# A clock of whole seconds does not say how far the second has gone.
	[ "${clock_kind}" != date ] || [ "${tenths}" -le 4 ] || tenths=4
	[ "${clock_kind}" != file ] || tenths=1
}

# A read that comes back empty at once may be a terminal that is gone.
tick_terminal() {
	if [ "${clock_kind}" = file ]; then
		clock_advance 100
		return 0
	fi
	tick_asked=${now}
	clock_read
	[ $(((now - tick_asked) / speed)) -lt 5 ] || return 0
	stty -g >/dev/null 2>&1 || on_signal HUP 129
}

# A line typed by the user; sets result. Fails where the user gave the question up.
ask_line() { # LABEL
	entry_label=${1} entry_text=''
	keys_drop # before the question is seen: an answer that is quick is not lost
	say "${1}"
	while :; do
		tick
		case ${key} in
		'') ;;
		interrupt)
			entry_label=''
			return 1
			;;
		enter) break ;;
		"${delete}" | "${backspace}") entry_text=${entry_text%?} ;;
		[0-9a-zA-Z.,+-]) [ "${#entry_text}" -ge 12 ] || entry_text=${entry_text}${key} ;;
		*) ;;
		esac
	done
	entry_label='' message=''
	result=${entry_text}
}

# Bottle and temperature of the step to come. Fails where the user gave it up; sets next_is_ready.
ready_make() {
	while [ "${next_asks_bottle}" -eq 1 ] && [ "${bottle_is_right}" -eq 0 ]; do
		ask_line "${next_name}: the number on the bottle in your hand?" || return 1
		ready_bottle "${result}"
	done
	while [ -n "${next_unit}" ] && [ "${is_measured}" -eq 0 ]; do
		ready_label
		ask_line "${result}" || return 1
		ready_measure "${result}"
	done
	next_is_ready=1
}

ready_note() { # WORD REMARK: about the step to come
	record_of "${next_number}" "${1}" "${2}"
}

tell() { # MESSAGE
	degrees_text "${1}"
	message=${result}
	say "${message}"
}

ready_bottle() { # TYPED
	if ! is_count "${1}"; then
		tell 'Type the figure that stands on the bottle.'
		return 0
	fi
	strip_zeros "${1}"
	typed_bottle=${result}
	if [ "${typed_bottle}" -eq "${next_bottle}" ]; then
		bottle_is_right=1 next_remark="bottle ${next_bottle}: right"
		ready_note bottle "${next_bottle}"
		return 0
	fi
	ready_note wrong-bottle "${typed_bottle}"
	plan_bottle "${typed_bottle}"
	tell "WRONG: ${typed_bottle} is ${result:-no bottle here}. Take ${next_bottle}."
}

ready_label() { # sets result
	ready_range "${next_low}" "${next_high}" "${next_unit}"
	ready_words=${result}
	if [ "${next_has_times}" -eq 1 ]; then
		ready_range "${next_coldest}" "${next_warmest}" "${next_unit}"
		ready_words="${ready_words}; there are times for ${result}"
	fi
	result="${next_name}: measured${next_thermometer:+ on ${next_thermometer}}? (${ready_words})"
}

ready_range() { # LOW HIGH UNIT, in hundredths; sets result
	hundredths_text "${1}"
	range_low=${result}
	hundredths_text "${2}"
	result="${range_low} to ${result} ${3}"
}

ready_measure() { # TYPED
	case ${1} in
	anyway)
		is_measured=1 measured_remark='poured anyway'
		rows_take "${next_number}" -
		ready_time
		ready_note departure "poured at ${measured_text:-an unmeasured temperature}"
		return 0
		;;
	*) ;;
	esac
	if ! read_hundredths "${1}"; then
		tell 'A figure such as 38.1 (or the word: anyway).'
		return 0
	fi
	measured=${result}
	hundredths_text "${measured}"
	measured_text="${result} ${next_unit}"
	if rows_judge "${measured}" "${next_low}" "${next_high}" "${next_coldest}" "${next_warmest}" "${next_has_times}"; then
		ready_accept
	else
		ready_outside "${result}"
	fi
}

ready_accept() {
	ready_note measured "${measured_text}"
	is_measured=1 measured_remark="${measured_text} measured, inside the window"
	[ "${next_has_times}" -eq 1 ] || return 0
	measured_remark=''
	rows_take "${next_number}" "${measured}"
	ready_time
	record_used "${next_number}"
	time_text "${next_declared}"
	ready_words="the time is ${next_time}, declared ${result}"
	[ "${next_seconds}" -ne "${next_declared}" ] || ready_words="the time is ${next_time}, as declared"
	say "${ready_words}"
	# In a step's time there is no room to keep it.
	[ "${mode}" != pour ] || message=${ready_words}
}

# The time of the step to come, once what was measured for it has changed.
ready_time() {
	plan_load "${next_number}"
	plan_take_time
}

ready_outside() { # COLD-OR-HOT
	ready_note measured "${measured_text}, too ${1}"
	if [ "${next_develops}" -eq 1 ]; then
		tell "TOO ${1}: do not pour. Temper and measure again (or type: anyway)."
	else
		tell "Too ${1}. Temper and measure again, or type: anyway"
	fi
}

# Degrees with a point or a comma, as hundredths; fails on anything else.
read_hundredths() { # TYPED
	read_whole=${1} read_part=''
	case ${1} in
	*[.,]*) read_whole=${1%%[.,]*} read_part=${1#*[.,]} ;;
	*) ;;
	esac
	case ${read_part}00 in
	*[!0-9]*) return 1 ;;
	[0-9][0-9]*)
		read_part=${read_part}00
		read_part=${read_part%"${read_part#??}"}
		;;
	*) return 1 ;;
	esac
	is_count "${read_whole}" && [ "${#read_whole}" -le 4 ] || return 1
	strip_zeros "${read_part}"
	read_part=${result}
	strip_zeros "${read_whole}"
	result=$((result * 100 + read_part))
}

hundredths_text() { # HUNDREDTHS
	seconds_text "${1}"
	case ${result} in
	*.?0) result=${result%0} ;;
	*) ;;
	esac
}

# Waits until the user begins the step to come; sets now to that moment.
await_pour() {
	mode=pour message=''
	bath_line "${next_bath_kind}" "${next_bottle}" "${next_bath_name}"
	say_step "${result}"
	if [ "${has_keys}" -eq 0 ]; then
		clock_read
		say 'no terminal to wait at: it begins now'
		return 0
	fi
	await_ready
	while :; do
		tick
		case ${key} in
		enter)
			clock_read
			return 0
			;;
		5) [ -z "${key_lead}" ] || ! await_lead || return 0 ;;
		t)
			[ -z "${next_unit}" ] || {
				is_measured=0
				await_ready
			}
			;;
		interrupt | m) menu ;;
		*) ;;
		esac
	done
}

await_ready() {
	until ready_make; do
		menu
	done
	key_words
	keys_drop
	say "Enter: ${result}${key_lead:+; 5: ${key_lead}}${next_unit:+; t: measure again}; Ctrl-C: menu"
}

# Both hands are free before the bell; fails where the user interrupts.
await_lead() {
	mode=lead pour_due=$((now + 500))
	while [ "${now}" -lt "${pour_due}" ]; do
		tick
		if [ "${key}" = interrupt ]; then
			mode=pour
			return 1
		fi
		clock_read
	done
}

say_step() { # WHAT-TO-DO
	say ''
	say "step ${next_number} of ${step_count}: ${next_name}: ${1}"
	for say_window in "${next_aim:+at }${next_aim}" "${next_limits}" "${next_in_tank:+in the tank }${next_in_tank}"; do
		[ -n "${say_window}" ] || continue
		degrees_text "${say_window}"
		say "  ${result}"
	done
	[ -z "${next_time}" ] || say "  for ${next_time}"
	degrees_text "${next_why}"
	[ -z "${result}" ] || say "  (${result})"
}

# Resume, drain, count again or stop.
menu() {
	menu_is_open=1 menu_opened_at=${now}
	record_event menu
	keys_drop
	say 'The clock goes on. Enter: go on; d: drain now; a: poured just now, count again; q: stop'
	while [ "${menu_is_open}" -eq 1 ]; do
		tick
		case ${key} in
		enter | r | "${escape}") menu_is_open=0 ;;
		d) ! menu_counts || menu_drain ;;
		a) ! menu_counts || menu_again ;;
		q) leave stopped 130 ;;
		# Twice in a row stops too, but not one key held down too long.
		interrupt)
			clock_read
			[ $(((now - menu_opened_at) / speed)) -lt 100 ] || leave stopped 130
			;;
		*) ;;
		esac
	done
	message=''
}

menu_counts() {
	[ "${is_counting}" -eq 1 ] && [ "${is_over}" -eq 0 ]
}

menu_drain() {
	menu_is_open=0
	step_drains 'by the menu'
}

menu_again() {
	menu_is_open=0
	clock_read
	cues_start
	record_event begun again
}
