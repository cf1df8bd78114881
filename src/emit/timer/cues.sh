# shellcheck shell=sh disable=SC2034,SC2154 # the parts of the timer share their variables
#
# The cues of the step in the tank. cues_left holds what is still to come, six words a cue: its number in the step,
# since, kind, until, count. A step that may go on (`at least`, a range, no time) is open from its earliest end until
# the user drains; what follows the drain then follows the real one.

cues_start() { # the step begins now
	pour_at=${now} is_counting=1 is_over=0
	cues_reset
}

cues_reset() {
	cues_left=${step_cues# } cues_tail='' cue_shift=0 is_open=0 is_drained=0 again_count=0
	act_kind='' act_words='' act_until='' act_at=${now} aside_words='' aside_at=-100000
}

# The next cue to come; fails where there is none. Sets cue_... and cue_due, on the clock.
cue_peek() {
	cue_is_again=0 cue_kind=''
	if [ -n "${cues_left}" ]; then
		cue_rest=${cues_left}
		cue_number=${cue_rest%% *} cue_rest=${cue_rest#* }
		cue_since=${cue_rest%% *} cue_rest=${cue_rest#* }
		cue_kind=${cue_rest%% *} cue_rest=${cue_rest#* }
		cue_until=${cue_rest%% *} cue_rest=${cue_rest#* }
		cue_due=$((pour_at + (cue_since - step_pour) * 100 + cue_shift))
	fi
	[ "${is_open}" -eq 0 ] || cue_peek_again
	[ -n "${cue_kind}" ]
}

# While the step goes on past its earliest end, agitation goes on in its pattern.
cue_peek_again() {
	[ "${step_again}" != - ] || return 0
	again_pairs=$((again_count / 2))
	again_since=$((step_again + again_pairs * step_again_every + again_count % 2 * step_again_length))
	again_due=$((pour_at + (again_since - step_pour) * 100))
	[ -z "${cue_kind}" ] || [ "${again_due}" -le "${cue_due}" ] || return 0
	cue_is_again=1 cue_since=${again_since} cue_due=${again_due} cue_until=${again_since}
	cue_kind=agitation-end
	[ $((again_count % 2)) -eq 0 ] || return 0
	cue_kind=agitation-start cue_until=$((again_since + step_again_length))
}

cue_take() { # the cue last looked at is no longer to come
	if [ "${cue_is_again}" -eq 1 ]; then
		again_count=$((again_count + 1))
		return 0
	fi
	case ${cue_rest} in
	*' '*) cues_left=${cue_rest#* } ;;
	*) cues_left='' ;;
	esac
}

# Every cue that is due: it rings, is written down, and only then counts as done.
cues_fire() { # TOLERANCE in centiseconds
	while [ "${is_over}" -eq 0 ] && cue_peek && [ $((cue_due - ${1} * speed)) -le "${now}" ]; do
		cue_do
	done
}

cue_do() {
	cue_kind_facts "${cue_kind}"
	[ "${kind_rings}" -eq 0 ] || bell_ring "${cue_kind}"
	since_start
	cue_actual=${result}
	cue_remark=''
	[ "${cue_is_again}" -eq 0 ] || cue_remark=longer
	cue_late=$(((now - cue_due) / speed))
	if [ "${cue_late}" -ge 100 ]; then
		seconds_text "${cue_late}"
		cue_remark="${cue_remark}${cue_remark:+, }late ${result} s"
	fi
	record cue "${cue_kind}" "${cue_since}" "${cue_actual}" "${cue_remark:--}"
	cue_take
	cue_settle
	cue_say
}

# What a cue changes, whether it has just come or is read back from a log.
cue_settle() {
	cue_words_load
	case ${cue_kind} in
	drain | end)
		if [ "${step_form}" != exact ] && [ "${is_drained}${is_open}" = 00 ]; then
			cues_open
			return 0
		fi
		;;
	*) ;;
	esac
	case ${cue_kind} in
	pour | expose | agitation-start | taps | drain) cue_act ;;
	agitation-end)
		cue_act
		[ "${is_open}" -eq 0 ] || cue_act_open
		;;
	full) [ "${act_kind}" != pour ] || cue_act ;;
	end)
		cue_act
		is_over=1
		;;
	start)
		[ -n "${act_kind}" ] || cue_act
		;;
	*)
		[ "${cue_kind}" != light ] || light_is_allowed=1
		[ "${cue_kind}${step_is_measured}" != measure1 ] || return 0
		aside_words=${cue_words} aside_at=${now}
		;;
	esac
}

cue_act() {
	act_kind=${cue_kind} act_words=${cue_words} act_until=${cue_until} act_at=${now}
	[ "${cue_until}" -gt "${cue_since}" ] || act_until=''
}

cue_words_load() {
	# After a drain of the user's own the end is no longer the earliest.
	if [ "${cue_is_again}" -eq 1 ] || [ "${cue_kind}" = pour ] || [ "${cue_kind}${is_drained}" = end1 ]; then
		cue_kind_facts "${cue_kind}"
		cue_words=${kind_title}
		return 0
	fi
	plan_words "${step_number}" "${cue_number}"
	cue_words=${result}
}

# The earliest end: an agitation that has begun and the latest end are still timed, agitations to come are those of the
# pattern, and the rest waits for the drain.
cues_open() {
	is_open=1 open_left=${cues_left} cues_left='' cues_tail='' open_kind=''
	# Figures and words of the plan.
	# shellcheck disable=SC2086
	set -- ${open_left}
	while [ "$#" -ge 5 ]; do
		case ${3} in
		agitation-start) open_kind='again' ;;
		drain | end) open_kind='tail' ;;
		light | latest-end) open_kind='timed' ;;
		*) [ "${open_kind}" = again ] || open_kind='timed' ;;
		esac
		[ "${step_again}" != - ] || [ "${open_kind}" != again ] || open_kind='timed'
		case ${open_kind} in
		again) ;;
		tail) cues_tail="${cues_tail}${cues_tail:+ }${1} ${2} ${3} ${4} ${5}" ;;
		*) cues_left="${cues_left}${cues_left:+ }${1} ${2} ${3} ${4} ${5}" ;;
		esac
		shift 5
	done
	aside_words=''
	cue_act_open
}

cue_act_open() {
	act_kind=open act_words='may be drained' act_until='' act_at=${now} open_enter='I drain now'
	[ "${step_drain}" != - ] || act_words='may end' open_enter='it is over'
}

# The user drains, at the earliest end, later, or before it.
drain_begin() { # AT, on the clock
	if [ "${is_open}" -eq 0 ]; then
		# Cues up to the drain are given up.
		# shellcheck disable=SC2086
		set -- "${1}" ${cues_left}
		drain_from=${1}
		shift
		while [ "$#" -ge 5 ] && [ "${3}" != drain ] && [ "${3}" != end ]; do
			shift 5
		done
		[ "$#" -lt 5 ] || [ "${3}" = end ] || shift 5
		cues_tail="$*"
	else
		drain_from=${1}
		# All but what comes behind the earliest end, the latest end or light, comes in the drain.
		# shellcheck disable=SC2086
		set -- ${cues_left}
		cues_left=''
		while [ "$#" -ge 5 ]; do
			[ "${2}" -gt "${step_end}" ] || cues_left="${cues_left}${cues_left:+ }${1} ${2} ${3} ${4} ${5}"
			shift 5
		done
		cues_tail=${cues_left}${cues_left:+${cues_tail:+ }}${cues_tail}
	fi
	drain_planned=${step_end}
	[ "${step_drain}" = - ] || drain_planned=${step_drain}
	cue_shift=$((drain_from - pour_at - (drain_planned - step_pour) * 100))
	cues_left=${cues_tail} is_open=0 is_drained=1
	cue_kind_facts drain
	act_kind=drain act_words=${kind_title} act_until='' act_at=${now} aside_words=''
	[ "${step_drain}" != - ] || is_over=1
}

# One line for each cue where nothing is painted.
cue_say() {
	[ "${paints}" -eq 0 ] || return 0
	time_text "${cue_since}"
	cue_line="${result}  ${cue_words}"
	[ "${is_open}${cue_kind}" != 1drain ] || cue_line="${result}  ${act_words}"
	[ "${is_open}${cue_kind}" != 1end ] || cue_line="${result}  ${act_words}"
	[ "${cue_late}" -lt 100 ] || cue_line="${cue_line}  (late)"
	[ "${is_over}" -eq 1 ] || ! cue_peek || {
		cue_words_load
		time_text "${cue_since}"
		cue_line="${cue_line}; next ${result} ${cue_words}"
	}
	degrees_text "${cue_line}"
	say "${result}"
}
