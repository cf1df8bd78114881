# shellcheck shell=sh disable=SC2034,SC2154 # the parts of the timer share their variables
#
# What can be asked for on the command line, and the lists that are printed without a run.

list_run() {
	[ -n "${process_run}" ] || return 0
	degrees_text "${process_run}"
	printf 'This run: %s\n' "${result}"
}

list_steps() {
	list_run
	list_number=1
	while [ "${list_number}" -le "${step_count}" ]; do
		plan_load "${list_number}"
		bath_line "${it_bath_kind}" "${it_bottle}" "${it_bath}"
		degrees_text "${result}${it_aim:+, at ${it_aim}}${it_time:+, for ${it_time}}${it_why:+ (${it_why})}"
		printf '%3s  %s: %s\n' "${list_number}" "${it_name}" "${result}"
		list_number=$((list_number + 1))
	done
}

# As in the cue list: since the run's start, since the step's, a star where it rings, the words.
list_cues() {
	list_run
	list_shift=0
	printf '%9s  %9s    %s\n' run step cue
	list_number=${first_step}
	while [ "${list_number}" -le "${step_count}" ]; do
		plan_load "${list_number}"
		printf '%3s. %s\n' "${list_number}" "${it_name}"
		plan_load "${list_number}" print
		# What comes after a longer step comes later.
		list_shift=$((list_shift + it_end - it_plan_end))
		list_number=$((list_number + 1))
	done
}

list_cue() { # RUN SINCE KIND WORDS
	clock_text $((${1} + list_shift))
	list_run=${result}
	clock_text "${2}"
	list_since=${result}
	cue_kind_facts "${3}"
	list_mark=' '
	[ "${kind_rings}" -eq 0 ] || list_mark='*'
	degrees_text "${4}"
	printf '%9s  %9s  %s %s\n' "${list_run}" "${list_since}" "${list_mark}" "${result}"
}

help_text() {
	# shellcheck disable=SC2016 # a dollar sign to be read as it stands
	printf '%s\n' \
		"Usage: ${0##*/} [OPTION]..." \
		"Times one run of ${process_name}: ${process_title}" \
		'' \
		"  ${0##*/}                     begin, or go on with a run that was cut off" \
		"  ${0##*/} --from 3            begin with step 3 (or its name)" \
		'' \
		'      --from STEP        begin with this step' \
		'      --log FILE         the log; without it a new file below XDG_STATE_HOME' \
		'      --go-on            go on with an unfinished run without asking' \
		'      --anew             begin a new run without asking' \
		'      --no-bottle-check  do not ask for the number on the bottle' \
		'      --no-measuring     do not ask for measured temperatures' \
		'      --measured STEP=TEMPERATURE' \
		'                         measured before: what the thermometer read in the bath' \
		'      --rehearse N       N times as fast, 1 to 60; cues less than N seconds apart' \
		'                         may come together' \
		'      --dry-run          print every cue with its time, and end' \
		'      --list             print the steps, and end' \
		'      --clock-file FILE  for tests: a file with the time in seconds; waiting is' \
		'                         writing a later time into it' \
		'  -h, --help             this text' \
		'' \
		'Without a terminal on standard input nothing is asked and nothing is waited for.' \
		'WETSIDE_BELL is a command run at each cue that rings; $1 is the kind of cue.' \
		'Exit status: 0 finished, 2 cannot run, 130 stopped, 129 and 143 ended by a signal.'
}

# --- options ---

options_read() {
	while [ "$#" -gt 0 ]; do
		option=${1}
		shift
		case ${option} in
		--from | --log | --measured | --rehearse | --clock-file)
			[ "$#" -gt 0 ] || give_up "${option} needs a value"
			option_value "${option}" "${1}"
			shift
			;;
		--from=* | --log=* | --measured=* | --rehearse=* | --clock-file=*) option_value "${option%%=*}" "${option#*=}" ;;
		--go-on) resume=yes ;;
		--anew) resume=no ;;
		--no-bottle-check) asks_bottle=0 ;;
		--no-measuring) asks_measure=0 ;;
		--dry-run) action=cues ;;
		--list) action=steps ;;
		-h | --help) action=help ;;
		--) ;;
		*) give_up "no such option: ${option}; see --help" ;;
		esac
	done
}

option_value() { # OPTION VALUE
	[ -n "${2}" ] || give_up "${1} needs a value"
	case ${1} in
	--from)
		plan_find "${2}"
		[ "${result}" -gt 0 ] || give_up "no such step: ${2}; see --list"
		first_step=${result} from_given=1
		;;
	--log)
		option_file "${2}"
		log_path=${result} log_given=1
		;;
	--measured) given_take "${2}" ;;
	--clock-file)
		[ -f "${2}" ] || give_up "not a file: ${2}"
		option_file "${2}"
		clock_file=${result}
		;;
	*)
		strip_zeros "${2}"
		case ${result} in
		[1-9] | [1-5][0-9] | 60) speed=${result} ;;
		*) give_up "not a number from 1 to 60: ${2}" ;;
		esac
		;;
	esac
}

# --- temperatures measured before ---

given_take() { # STEP=TEMPERATURE
	case ${1} in
	?*=?*) ;;
	*) give_up "--measured wants STEP=TEMPERATURE: ${1}" ;;
	esac
	plan_find "${1%%=*}"
	given_step=${result}
	[ "${given_step}" -gt 0 ] || give_up "no such step: ${1%%=*}; see --list"
	plan_load "${given_step}"
	[ -n "${it_unit}" ] || give_up "no temperature is asked for before ${it_name}"
	given_figure=${1#*=}
	given_figure=${given_figure%"${it_unit}"}
	read_hundredths "${given_figure% }" || give_up "not a temperature in degrees ${it_unit}, such as 38.1: ${1#*=}"
	given_reading=${result}
	hundredths_text "${given_reading}"
	given_text="${result} ${it_unit}"
	rows_judge "${given_reading}" "${it_low}" "${it_high}" "${it_coldest}" "${it_warmest}" "${it_has_times}" || {
		given_why=${result}
		ready_range "${judge_low}" "${judge_high}" "${it_unit}"
		give_up "${it_name}: ${given_text} is too ${given_why} (${result}): temper and measure again"
	}
	given_rows="${given_rows} ${given_step}=${given_reading}"
	rows_take "${given_step}" "${given_reading}"
}

# Whether the temperature of the step to be poured next was measured before: then it is not asked for.
given_find() { # STEP
	case ${given_rows} in
	*" ${1}="*) ;;
	*) return 0 ;;
	esac
	given_reading=${given_rows##*" ${1}="}
	hundredths_text "${given_reading%% *}"
	is_measured=1 measured_text="${result} ${it_unit}"
	[ -n "${it_row}" ] || measured_remark="${measured_text} measured, inside the window"
}

# In the log as if they had been typed.
given_record() { # STEP: from this one on
	# shellcheck disable=SC2086 # figures
	for given_word in ${given_rows}; do
		given_step=${given_word%%=*}
		[ "${given_step}" -ge "${1}" ] || continue
		plan_load "${given_step}"
		hundredths_text "${given_word#*=}"
		record_of "${given_step}" measured "${result} ${it_unit}"
		[ -z "${it_row}" ] || record_used "${given_step}"
	done
}

# A file name that no utility takes for an option; sets result.
option_file() { # NAME
	result=${1}
	case ${1} in
	-*) result=./${1} ;;
	*) ;;
	esac
}
