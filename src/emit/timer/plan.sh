# shellcheck shell=sh disable=SC2034,SC2154 # the parts of the timer share their variables
#
# The plan above, one step at a time: plan_load fills the variables it_..., the functions step_... are the words in
# which the plan is written. Times are whole seconds since the step's time starts, so a pour before that is negative.

plan_is() { # NAME FILE-NAME TITLE FINGERPRINT STEPS
	process_name=${1} process_file=${2} process_title=${3} process_fingerprint=${4} step_count=${5}
}

plan_run() { # WORDS: what is different in this run
	process_run=${1}
}

plan_light() { # STEP SINCE: from here light may come on
	light_step=${1} light_since=${2}
}

step_is() { # NAME
	it_name=${1}
}

step_bath() { # KIND BOTTLE ASKS-FOR-BOTTLE IS-DEVELOPER NAME TITLE
	it_bath_kind=${1} it_bottle=${2} it_asks_bottle=${3} it_develops=${4} it_bath=${5} it_bath_title=${6}
}

step_window() { # AIM LIMITS IN-THE-TANK: as read by people
	it_aim=${1} it_limits=${2} it_in_tank=${3}
}

step_measure() { # UNIT LOW HIGH THERMOMETER: in hundredths of a degree, as the thermometer shows them
	it_unit=${1} it_low=${2} it_high=${3} it_thermometer=${4}
}

step_time() { # FORM SECONDS WORDS: exact, least, range or none
	it_form=${1} it_seconds=${2} it_time=${3} it_declared=${2}
}

step_why() { # DECLARED-SECONDS WORDS: why it is not the declared time
	it_declared=${1} it_why=${2}
}

step_ends() { # POUR DRAIN END LATEST: latest is - where there is none
	it_pour=${1} it_drain=${2} it_end=${3} it_latest=${4}
}

step_longer() { # FIRST EVERY LENGTH: agitation goes on so where the step goes on past its earliest end
	it_again=${1} it_again_every=${2} it_again_length=${3}
}

step_note() { # TEXT
	it_notes="${it_notes}${it_notes:+${newline}}${1}"
}

step_cue() { # RUN SINCE KIND UNTIL COUNT WORDS
	it_cue_count=$((it_cue_count + 1))
	if [ "${it_purpose}" = words ]; then
		[ "${it_cue_count}" -ne "${it_wanted}" ] || row_words "${3}" "${2}" "${5}" "${6}"
	elif [ -n "${it_row}" ]; then
		row_cue "${it_cue_count}" "$@"
	else
		plan_cue "${it_cue_count}" "$@"
	fi
}

plan_cue() { # NUMBER RUN SINCE KIND UNTIL COUNT WORDS
	case ${it_purpose} in
	print) list_cue "${2}" "${3}" "${4}" "${7}" ;;
	record) record_planned "${3}" "${4}" "${5}" "${6}" ;;
	*) it_cues="${it_cues} ${1} ${3} ${4} ${5} ${6}" ;;
	esac
}

plan_clear() { # STEP
	it_number=${1} it_name='' it_cues='' it_cue_count=0 it_words='' it_notes=''
	it_bath_kind=none it_bottle=0 it_asks_bottle=0 it_develops=0 it_bath='' it_bath_title=''
	it_aim='' it_limits='' it_in_tank='' it_unit='' it_low=0 it_high=0 it_thermometer=''
	it_form=none it_seconds=0 it_time='' it_declared=0 it_why='' it_pour=0 it_drain=- it_end=0 it_latest=- it_light=-
	it_again=- it_again_every=0 it_again_length=0
	it_has_times=0 it_coldest=0 it_warmest=0 it_to_drain=0 it_declared_words='' it_done='' it_measured='' it_row=''
	rows_find "${1}"
}

plan_load() { # STEP [PURPOSE]
	plan_clear "${1}"
	it_purpose=${2:-load}
	plan_step "${1}"
	it_plan_end=${it_end}
	[ -z "${it_row}" ] || [ "${it_purpose}" = words ] || row_apply
}

# The words of one cue; sets result.
plan_words() { # STEP CUE
	it_wanted=${2}
	plan_load "${1}" words
	result=${it_words}
}

# The step now in the tank.
plan_take_step() { # STEP
	step_is_measured=${is_measured}
	plan_load "${1}"
	step_number=${1} step_name=${it_name} step_bottle=${it_bottle}
	step_aim=${it_aim} step_in_tank=${it_in_tank} step_form=${it_form} step_time=${it_time}
	step_pour=${it_pour} step_drain=${it_drain} step_end=${it_end} step_latest=${it_latest} step_cues=${it_cues}
	step_again=${it_again} step_again_every=${it_again_every} step_again_length=${it_again_length}
	step_why=${it_why}
	[ -z "${it_measured}" ] || step_aim="${it_measured}, as measured" step_in_tank=''
}

# The step to be poured next; next_number is 0 where there is none. What was made ready for it stays ready.
plan_take_next() { # STEP
	[ "${1}" -ne "${next_number}" ] || return 0
	next_number=0 next_is_ready=0 bottle_is_right=0 is_measured=0 next_remark='' measured_text='' measured_remark=''
	[ "${1}" -le "${step_count}" ] || return 0
	plan_load "${1}"
	next_number=${1} next_name=${it_name} next_bath_kind=${it_bath_kind} next_bottle=${it_bottle}
	next_asks_bottle=${it_asks_bottle} next_develops=${it_develops} next_bath_name=${it_bath}
	next_bath_title=${it_bath_title} next_aim=${it_aim} next_limits=${it_limits} next_in_tank=${it_in_tank}
	next_unit=${it_unit} next_low=${it_low} next_high=${it_high} next_thermometer=${it_thermometer}
	next_notes=${it_notes} next_has_times=${it_has_times} next_coldest=${it_coldest} next_warmest=${it_warmest}
	plan_take_time
	[ "${asks_bottle}" -eq 1 ] || next_asks_bottle=0
	[ "${asks_measure}" -eq 1 ] || next_unit=''
	next_is_ready=0
	given_find "${1}"
	[ "${next_asks_bottle}" -eq 1 ] || [ -n "${next_unit}" ] || next_is_ready=1
}

# The time of the step to be poured next, as it is loaded.
plan_take_time() {
	next_time=${it_time} next_why=${it_why} next_seconds=${it_seconds} next_declared=${it_declared}
}

# The number of a step given by name or number; sets result, 0 where there is none.
plan_find() { # STEP
	if is_count "${1}"; then
		strip_zeros "${1}"
		[ "${result}" -le "${step_count}" ] || result=0
		return 0
	fi
	find_number=1
	while [ "${find_number}" -le "${step_count}" ]; do
		plan_load "${find_number}" words
		if [ "${it_name}" = "${1}" ]; then
			result=${find_number}
			return 0
		fi
		find_number=$((find_number + 1))
	done
	result=0
}

# The bath in a bottle; sets result, empty where no bottle has the number.
plan_bottle() { # NUMBER
	find_number=1
	while [ "${find_number}" -le "${step_count}" ]; do
		plan_load "${find_number}" words
		if [ "${it_bottle}" -eq "${1}" ] && [ "${it_bottle}" -gt 0 ]; then
			result=${it_bath}
			return 0
		fi
		find_number=$((find_number + 1))
	done
	result=''
}

# --- figures and words ---

# Nine digits stay below 2^31, the largest number that every shell counts to.
is_count() { # TEXT
	case ${1} in
	'' | *[!0-9]* | ??????????*) return 1 ;;
	*) return 0 ;;
	esac
}

# 08 would be read as octal.
strip_zeros() { # DIGITS
	result=${1}
	while :; do
		case ${result} in
		0?*) result=${result#0} ;;
		*) return 0 ;;
		esac
	done
}

# Seconds as m:ss or h:mm:ss.
time_text() { # SECONDS
	time_sign='' time_left=${1}
	if [ "${time_left}" -lt 0 ]; then
		time_sign=- time_left=$((-time_left))
	fi
	time_s=$((time_left % 60)) time_m=$((time_left / 60 % 60)) time_h=$((time_left / 3600))
	[ "${time_s}" -ge 10 ] || time_s=0${time_s}
	result=${time_sign}${time_m}:${time_s}
	[ "${time_h}" -gt 0 ] || return 0
	[ "${time_m}" -ge 10 ] || time_m=0${time_m}
	result=${time_sign}${time_h}:${time_m}:${time_s}
}

# Seconds as h:mm:ss, as in the cue list.
clock_text() { # SECONDS
	time_text "${1}"
	[ "${time_h}" -eq 0 ] || return 0
	[ "${time_m}" -ge 10 ] || time_m=0${time_m}
	result=${time_sign}0:${time_m}:${time_s}
}

# Centiseconds as seconds with two decimals.
seconds_text() { # CENTISECONDS
	time_sign='' time_left=${1}
	if [ "${time_left}" -lt 0 ]; then
		time_sign=- time_left=$((-time_left))
	fi
	time_part=$((time_left % 100))
	[ "${time_part}" -ge 10 ] || time_part=0${time_part}
	result=${time_sign}$((time_left / 100)).${time_part}
}

# The reverse; sets result, fails on anything else.
seconds_read() { # TEXT
	read_sign='' read_whole=${1%.*} read_part=${1#*.}
	case ${1} in
	-*.??) read_sign=- read_whole=${read_whole#-} ;;
	*.??) ;;
	*) return 1 ;;
	esac
	is_count "${read_whole}" && is_count "${read_part}" && [ "${#read_whole}" -le 7 ] || return 1
	strip_zeros "${read_part}"
	read_part=${result}
	strip_zeros "${read_whole}"
	result=$((result * 100 + read_part))
	[ -z "${read_sign}" ] || result=$((-result))
}

# The same without the sign, for the log.
plain_text() { # TEXT
	plain_degree=${degree} degree=''
	degrees_text "${1}"
	degree=${plain_degree}
}

# The degree sign stands as ~ in the plan, which is ASCII but for the recipe's own words.
degrees_text() { # TEXT
	result=''
	degrees_rest=${1}
	while :; do
		case ${degrees_rest} in
		*'~'*)
			result=${result}${degrees_rest%%'~'*}${degree}
			degrees_rest=${degrees_rest#*'~'}
			;;
		*)
			result=${result}${degrees_rest}
			return 0
			;;
		esac
	done
}
