# shellcheck shell=sh disable=SC2034,SC2154 # the parts of the timer share their variables
#
# The time of a step by what the thermometer reads in its bath. The plan has a row for each reading; the row nearest to
# what was measured (of two as near the warmer) says how many of the agitations there are, and when those cues come that
# hang on the end of the time. All else about the cues is as in the plan. What was measured stands in readings: a word
# STEP=HUNDREDTHS for each step, the last one counts.

step_times() { # COLDEST WARMEST TO-DRAIN DECLARED DONE
	it_has_times=1 it_coldest=${1} it_warmest=${2}
	# The agitation that goes on until the drain; 0 where there is none.
	it_to_drain=${3}
	it_declared_words=${4} it_done=${5}
}

step_row() { # READING SECONDS AGITATIONS DRAIN-SOON DRAIN END LATEST LIGHT AGAIN: a dash where there is none
	[ -n "${it_reading}" ] || return 0
	row_distance=$((${1} - it_reading))
	row_distance=${row_distance#-}
	[ -z "${it_row}" ] || [ "${row_distance}" -le "${row_nearest}" ] || return 0
	row_nearest=${row_distance} it_row=${1} row_seconds=${2} row_agitations=${3}
	row_soon=${4} row_drain=${5} row_end=${6} row_latest=${7} row_light=${8} row_again=${9}
	row_fixed='' row_hanging='' row_taps=0
}

step_more() { # as step_cue: a cue that only longer times have
	it_cue_count=$((it_cue_count + 1))
	if [ "${it_purpose}" = words ]; then
		[ "${it_cue_count}" -ne "${it_wanted}" ] || row_words "${3}" "${2}" "${5}" "${6}"
	elif [ -n "${it_row}" ]; then
		row_cue "${it_cue_count}" "$@"
	fi
}

# --- what was measured ---

rows_take() { # STEP HUNDREDTHS: a dash forgets
	readings="${readings} ${1}=${2}"
}

# What was measured for a step; sets it_reading, empty where nothing was.
rows_find() { # STEP
	it_reading=''
	case ${readings} in
	*" ${1}="*)
		it_reading=${readings##*" ${1}="}
		it_reading=${it_reading%% *}
		[ "${it_reading}" != - ] || it_reading=''
		;;
	*) ;;
	esac
}

# Those of a run that was cut off, and those given now; the step in the tank keeps the time it began with.
rows_recall() {
	readings=${scan_rows}
	rows_find "${scan_step}"
	readings=${scan_rows}${given_rows}
	[ "${scan_state}" != counting ] || rows_take "${scan_step}" "${it_reading:--}"
}

# Whether a reading is one for which the step may be poured; sets result to cold or hot where it is not.
rows_judge() { # HUNDREDTHS LOW HIGH COLDEST WARMEST HAS-TIMES
	judge_low=${2} judge_high=${3}
	if [ "${6}" -eq 1 ]; then
		judge_low=${4} judge_high=${5}
	fi
	result=''
	[ "${1}" -ge "${judge_low}" ] || result=cold
	[ "${1}" -le "${judge_high}" ] || result=hot
	[ -z "${result}" ]
}

# --- the cues of a step whose time is that of a row ---

row_cue() { # NUMBER RUN SINCE KIND UNTIL COUNT WORDS
	row_at=${3} row_until=${5} row_hangs=1 row_count=0
	case ${4} in
	drain-soon) row_at=${row_soon} row_until=${row_drain} ;;
	drain) row_at=${row_drain} row_until=${row_end} ;;
	end) row_at=${row_end} row_until=${row_end} ;;
	latest-end) row_at=${row_latest} row_until=${row_latest} ;;
	light) row_at=${row_light} row_until=${row_light} ;;
	agitation-start | agitation-end) row_count=${6} row_hangs=0 ;;
	taps)
		row_taps=$((row_taps + 1))
		row_count=${row_taps} row_hangs=0
		;;
	*) row_hangs=0 ;;
	esac
	[ "${row_at}" != - ] && [ "${row_count}" -le "${row_agitations}" ] || return 0
	[ "${row_count}" -eq 0 ] || [ "${row_count}" -ne "${it_to_drain}" ] || row_cue_to_drain "${3}" "${4}" "${5}"
	row_words "${4}" "${row_at}" "${6}" "${7}"
	cue_kind_facts "${4}"
	row_line="${row_at} ${kind_order} ${1} $((${2} + row_at - ${3})) ${4} ${row_until} ${6} ${it_words}${newline}"
	if [ "${row_hangs}" -eq 1 ]; then
		row_hang
	else
		row_fixed=${row_fixed}${row_line}
	fi
}

# A cue that hangs on the end, in its place among the others.
row_hang() {
	hang_before=''
	while [ -n "${row_hanging}" ] && row_is_before "${row_hanging%%"${newline}"*}" "${row_line}"; do
		hang_before=${hang_before}${row_hanging%%"${newline}"*}${newline}
		row_hanging=${row_hanging#*"${newline}"}
	done
	row_hanging=${hang_before}${row_line}${row_hanging}
}

row_cue_to_drain() { # SINCE KIND UNTIL
	if [ "${2}" = agitation-start ]; then
		row_until=${row_drain}
	else
		row_hangs=1 row_at=${row_drain} row_until=$((row_drain + ${3} - ${1}))
	fi
}

# The words of a cue; sets it_words.
row_words() { # KIND SINCE COUNT WORDS
	it_words=${4}
	[ -n "${it_row}" ] || return 0
	case ${1} in
	pour)
		reading_text "${it_reading}" "${it_unit}"
		case ${4} in
		*" at ${it_aim}"*)
			words_before=${4%%" at ${it_aim}"*}
			it_words="${words_before} at ${result}, as measured${4#"${words_before} at ${it_aim}"}"
			;;
		*) ;;
		esac
		;;
	agitation-start)
		[ "${3}" -eq "${it_to_drain}" ] || return 0
		result="$((row_drain - ${2})) s"
		[ $((row_drain - ${2})) -lt 60 ] || time_text $((row_drain - ${2}))
		it_words="${4%,*}, ${result}"
		;;
	*) ;;
	esac
}

# Puts the two lists, each in order, into one.
rows_lay() {
	while [ -n "${row_fixed}" ]; do
		row_line=${row_fixed%%"${newline}"*} row_fixed=${row_fixed#*"${newline}"}
		rows_lay_hanging "${row_line}"
		# Figures and words of the plan.
		# shellcheck disable=SC2086
		row_lay ${row_line}
	done
	rows_lay_hanging ''
}

rows_lay_hanging() { # LINE: those that come before it, or all
	while [ -n "${row_hanging}" ]; do
		row_first=${row_hanging%%"${newline}"*}
		[ -z "${1}" ] || row_is_before "${row_first}" "${1}" || return 0
		row_hanging=${row_hanging#*"${newline}"}
		# Figures and words of the plan.
		# shellcheck disable=SC2086
		row_lay ${row_first}
	done
}

row_is_before() { # LINE LINE
	before_rest_1=${1#* } before_rest_2=${2#* }
	if [ "${1%% *}" -ne "${2%% *}" ]; then
		[ "${1%% *}" -lt "${2%% *}" ]
	else
		[ "${before_rest_1%% *}" -lt "${before_rest_2%% *}" ]
	fi
}

row_lay() { # SINCE ORDER NUMBER RUN KIND UNTIL COUNT WORD...
	lay_since=${1} lay_number=${3} lay_run=${4} lay_kind=${5} lay_until=${6} lay_count=${7}
	shift 7
	plan_cue "${lay_number}" "${lay_run}" "${lay_since}" "${lay_kind}" "${lay_until}" "${lay_count}" "$*"
}

# The step as it is with the row.
row_apply() {
	it_drain=${row_drain} it_end=${row_end} it_latest=${row_latest} it_light=${row_light} it_again=${row_again}
	it_seconds=${row_seconds}
	time_text "${it_seconds}"
	it_time=${result}
	[ "${it_form}" != least ] || it_time="at least ${it_time}"
	if [ "${it_form}" = range ] && [ "${it_latest}" != - ]; then
		time_text $((it_seconds + it_latest - it_end))
		it_time="${it_time} to ${result}"
	fi
	reading_text "${it_reading}" "${it_unit}"
	it_measured=${result}
	it_why="${it_declared_words}; measured ${it_measured}"
	if [ "${row_nearest}" -gt 0 ]; then
		reading_text "${it_row}" "${it_unit}"
		it_why="${it_why}, taken as ${result}"
	fi
	it_why="${it_why}${it_done:+; ${it_done}}"
	rows_lay
}

reading_text() { # HUNDREDTHS UNIT; sets result
	hundredths_text "${1}"
	result="${result} ~${2}"
}
