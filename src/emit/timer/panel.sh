# shellcheck shell=sh disable=SC2034,SC2154 # the parts of the timer share their variables
#
# What the screen shows. mode says what is on: talk (a text and a question), pour (before a step), lead (the last
# seconds before a pour), count (a step in the tank). A menu or a line to type may lie over it.

panel_paint() {
	[ $((now - measured_at)) -lt 500 ] || terminal_measure
	# What can be typed is always to be seen; the rest gets the rows that are left.
	frame_begin $((rows - 1))
	panel_message
	panel_bottom
	bottom=${frame} bottom_rows=${frame_rows}
	frame_begin $((rows - 1 - bottom_rows))
	frame_bold "${process_title}"
	[ "${speed}" -eq 1 ] || frame_line "rehearsal, ${speed} times as fast"
	case ${mode} in
	count) panel_count ;;
	pour | lead) panel_pour ;;
	*) panel_talk ;;
	esac
	frame_show "${frame}${bottom}"
}

panel_message() {
	[ -n "${message}" ] || return 0
	frame_style=band
	frame_text '' "${message}"
	frame_style=line
}

panel_talk() {
	frame_gap
	talk_left=${talk}
	while [ -n "${talk_left}" ]; do
		frame_text '' "${talk_left%%"${newline}"*}"
		case ${talk_left} in
		*"${newline}"*) talk_left=${talk_left#*"${newline}"} ;;
		*) talk_left='' ;;
		esac
	done
	frame_gap
}

# The line being typed, the menu, or what the keys do.
panel_bottom() {
	if [ -n "${entry_label}" ]; then
		frame_text '' "${entry_label}"
		frame_line " > ${entry_text}${cursor}"
	elif [ "${menu_is_open}" -eq 1 ]; then
		panel_menu
	else
		panel_keys
	fi
}

panel_menu() {
	if [ "${is_counting}" -eq 1 ]; then
		frame_band ' The clock goes on. What now?'
	else
		frame_band ' What now?'
	fi
	frame_line ' Enter   go on'
	if [ "${is_counting}" -eq 1 ]; then
		frame_line ' d       drain now: the step ends here'
		frame_line ' a       poured just now: count again'
	fi
	frame_line ' q       stop; a new start goes on'
}

panel_keys() {
	case ${mode} in
	pour)
		key_words
		frame_line " Enter   ${result}"
		[ -z "${key_lead}" ] || frame_line " 5       ${key_lead}"
		[ -z "${next_unit}" ] || frame_line ' t       measure again'
		frame_line ' Ctrl-C  menu'
		;;
	count)
		[ "${is_open}" -eq 0 ] || frame_bold " Enter   ${open_enter}"
		panel_next
		frame_line ' Ctrl-C  menu'
		;;
	lead) frame_line ' Ctrl-C  menu' ;;
	*)
		frame_line " Enter   ${talk_enter}"
		[ -z "${talk_n}" ] || frame_line " n       ${talk_n}"
		frame_line ' q       leave'
		;;
	esac
}

# The step to come, while one is in the tank.
panel_next() {
	if [ "${next_number}" -eq 0 ]; then
		return 0
	fi
	bath_line "${next_bath_kind}" "${next_bottle}" "${next_bath_name}"
	next_line="next step: ${next_name}: ${result}"
	if [ "${next_is_ready}" -eq 1 ]; then
		next_line="${next_line}: ready"
	fi
	frame_text '' "${next_line}"
	[ "${next_is_ready}" -eq 1 ] || frame_line ' n       check its bottle and bath'
}

# What is done with a bath; sets result.
bath_line() { # KIND BOTTLE NAME
	case ${1} in
	solution) result="pour bottle ${2}, ${3}" ;;
	water) result='pour water' ;;
	running) result='run water' ;;
	light) result='expose to light' ;;
	air) result='hang up to dry' ;;
	dryer) result="hang in ${3}" ;;
	*) result=begin ;;
	esac
}

# What Enter says before the step to come, and what 5 does; sets result and key_lead.
key_words() {
	key_lead='I pour at the bell, in 5 s'
	case ${next_bath_kind} in
	solution | water) result='I begin to pour' ;;
	running) result='the water runs' key_lead='' ;;
	light) result='the light is on' key_lead='light on at the bell, in 5 s' ;;
	air | dryer) result='it hangs' key_lead='' ;;
	*) result='it begins' key_lead='' ;;
	esac
}

panel_pour() {
	frame_line "step ${next_number} of ${step_count}: ${next_name}"
	panel_light
	bath_line "${next_bath_kind}" "${next_bottle}" "${next_bath_name}"
	frame_gap
	frame_style=band
	frame_text '' "${result}"
	frame_style=line
	if [ "${mode}" = lead ]; then
		frame_line 'Pour at the bell, in'
		frame_figures "$(((pour_due - now + 99) / 100))"
		return 0
	fi
	if [ "${next_bottle}" -gt 0 ] && [ "${is_roomy}" -eq 1 ]; then
		frame_gap
		frame_figures "${next_bottle}"
		frame_gap
	fi
	[ -z "${next_bath_title}" ] || frame_text '' "${next_bath_title}"
	panel_window at "${next_aim}"
	panel_window '' "${next_limits}"
	panel_window 'in the tank' "${next_in_tank}"
	[ -z "${next_time}" ] || frame_text '' "for ${next_time}"
	panel_why "${next_why}"
	panel_notes "${next_notes}"
	pour_remark=${next_remark}${next_remark:+${measured_remark:+; }}${measured_remark}
	[ -z "${pour_remark}" ] || frame_text '' "${pour_remark}"
	if [ "${step_ended_at}" != - ]; then
		time_text $(((now - step_ended_at) / 100))
		frame_line "since the step before: ${result}"
	fi
}

panel_window() { # BEFORE TEXT
	[ -n "${2}" ] || return 0
	degrees_text "${2}"
	frame_text '' "${1} ${result}"
}

# Why the time is not the declared one.
panel_why() { # TEXT
	degrees_text "${1}"
	[ -z "${result}" ] || frame_text '' "${result}"
}

panel_notes() { # NOTES
	notes_left=${1}
	while [ -n "${notes_left}" ]; do
		frame_text ' -' "${notes_left%%"${newline}"*}"
		case ${notes_left} in
		*"${newline}"*) notes_left=${notes_left#*"${newline}"} ;;
		*) notes_left='' ;;
		esac
	done
}

panel_light() {
	light_now=${light_is_allowed}
	if [ "${mode}" = pour ] && [ "${light_step}" -gt 0 ]; then
		[ "${next_number}" -le "${light_step}" ] || light_now=1
		[ "${next_number}" -ne "${light_step}" ] || [ "${light_since}" -gt 0 ] || light_now=1
	fi
	if [ "${light_now}" -eq 1 ]; then
		frame_line 'light is allowed'
	else
		frame_line 'no light: the lid stays on'
	fi
}

panel_count() {
	step_line="step ${step_number} of ${step_count}: ${step_name}"
	[ "${step_bottle}" -eq 0 ] || step_line="${step_line}, bottle ${step_bottle}"
	frame_line "${step_line}"
	panel_light
	panel_window at "${step_in_tank:-${step_aim}}"
	[ "${is_roomy}" -eq 0 ] || panel_why "${step_why}"
	frame_gap
	since=$(((now - pour_at) / 100 + step_pour))
	panel_act
	panel_ahead
	if [ "${is_open}" -eq 1 ]; then
		time_text "${since}"
		panel_large 'in the bath for' "${result}"
	elif [ -n "${ahead_1}" ]; then
		time_text $(((ahead_1_due - now + 99) / 100))
		panel_large "${ahead_1} in" "${result}"
	fi
	panel_after
	panel_strip
}

# What is to be done now; in reverse when it has just come and while it lasts.
panel_act() {
	act_line=${act_words}
	if [ -n "${act_until}" ]; then
		if [ "${since}" -ge "${act_until}" ] && [ "${act_kind}" = taps ]; then
			cue_kind_facts agitation-end
			act_kind=agitation-end act_words=${kind_title} act_until=''
			act_line=${act_words}
		else
			time_text "${act_until}"
			act_line="${act_line}, until ${result}"
		fi
	fi
	degrees_text "now: ${act_line}"
	if [ "${act_kind}" = open ] || [ -n "${act_until}" ] || [ $(((now - act_at) / speed)) -lt 400 ]; then
		frame_style=band
	else
		frame_style=bold
	fi
	frame_text '' "${result}"
	frame_style=line
	if [ -n "${aside_words}" ] && [ $(((now - aside_at) / speed)) -lt 1000 ]; then
		frame_band " ${aside_words}"
	else
		frame_gap
	fi
}

panel_large() { # CAPTION TIME
	degrees_text "${1}"
	large_caption=${result}
	if [ $((frame_most - frame_rows)) -lt 7 ]; then
		frame_bold " ${large_caption}  ${2}"
		return 0
	fi
	frame_line " ${large_caption}"
	frame_gap
	frame_figures "${2}"
	frame_gap
}

# The next two things to do; looked up again only when a cue has come.
panel_ahead() {
	ahead_mark="${step_number} ${#cues_left} ${again_count} ${is_open} ${cue_shift} ${pour_at}"
	[ "${ahead_mark}" != "${ahead_known}" ] || return 0
	ahead_known=${ahead_mark} ahead_1='' ahead_2='' ahead_drains=0
	ahead_left=${cues_left} ahead_again=${again_count}
	while [ -z "${ahead_2}" ] && cue_peek; do
		cue_kind_facts "${cue_kind}"
		# A warning is nothing to wait for.
		if [ "${kind_rings}" -eq 1 ] && [ "${cue_kind}" != drain-soon ]; then
			cue_words_load
			if [ -z "${ahead_1}" ]; then
				ahead_1=${cue_words} ahead_1_due=${cue_due}
			else
				ahead_2=${cue_words} ahead_2_due=${cue_due}
			fi
			[ "${cue_kind}" != drain ] || ahead_drains=1
		fi
		cue_take
	done
	cues_left=${ahead_left} again_count=${ahead_again}
}

panel_after() {
	after_words=${ahead_2} after_due=${ahead_2_due}
	[ "${is_open}" -eq 0 ] || after_words=${ahead_1} after_due=${ahead_1_due}
	if [ -n "${after_words}" ]; then
		time_text $(((after_due - now + 99) / 100))
		degrees_text "then ${after_words} in ${result}"
		frame_line " ${result}"
	elif [ "${is_open}" -eq 0 ]; then
		frame_line ''
	fi
	time_text "${since}"
	after_line=" ${result}"
	[ -z "${step_time}" ] || after_line="${after_line} of ${step_time}"
	if [ "${is_open}" -eq 1 ] && [ "${step_latest}" != - ] && [ "${since}" -ge "${step_latest}" ]; then
		frame_band ' the latest end is over: drain'
	elif [ "${step_drain}" != - ] && [ "${ahead_drains}${is_drained}${is_open}" = 000 ]; then
		time_text $((step_drain - since))
		after_line="${after_line}; drain in ${result}"
	fi
	frame_line "${after_line}"
}

# The step to scale: agitations, the drain, and where it is now.
panel_strip() {
	strip_width=$((columns - 4))
	strip_span=$((step_end - step_pour))
	[ "${strip_span}" -gt 0 ] || return 0
	[ "${strip_known}" = "${step_number} ${columns}" ] || strip_build
	strip_place=$(((since - step_pour) * strip_width / strip_span))
	[ "${strip_place}" -lt "${strip_width}" ] || strip_place=${strip_width}
	frame_line " |${strip}|"
	strip_pointer='  '
	while [ "${strip_place}" -gt 0 ]; do
		strip_pointer="${strip_pointer} " strip_place=$((strip_place - 1))
	done
	frame_line "${strip_pointer}^"
}

strip_build() {
	strip_known="${step_number} ${columns}" strip='' strip_at=0
	# Figures and words of the plan.
	# shellcheck disable=SC2086
	set -- ${step_cues}
	while [ "$#" -ge 5 ]; do
		if [ "${3}" = agitation-start ]; then
			strip_fill . "$(((${2} - step_pour) * strip_width / strip_span))"
			strip_fill "${block}" $(((${4} - step_pour) * strip_width / strip_span + 1))
		fi
		shift 5
	done
	if [ "${step_drain}" != - ]; then
		strip_fill . "$(((step_drain - step_pour) * strip_width / strip_span))"
		strip_fill v "${strip_width}"
	fi
	strip_fill . "${strip_width}"
}

strip_fill() { # CHARACTER UP-TO
	while [ "${strip_at}" -lt "${2}" ] && [ "${strip_at}" -lt "${strip_width}" ]; do
		strip="${strip}${1}" strip_at=$((strip_at + 1))
	done
}
