# shellcheck shell=sh disable=SC2034,SC2154 # the parts of the timer share their variables
#
# The log: tab-separated lines that are only ever added. First the plan that is run, then one line an event:
#   type  stamp  epoch  clock  step  word  planned  actual  remark
# `cue` lines are cues, `event` lines all else. Planned and actual are seconds since the step's time starts; clock is
# the figure of the clock named in the head, by which a run that was cut off goes on. A dash stands where there is
# nothing.

record_line() { # TEXT
	if { printf '%s\n' "${1}" >>"${log_path}"; } 2>/dev/null; then
		return 0
	fi
	[ "${log_is_lost}" -eq 1 ] || complain "the log cannot be written any more: ${log_path}; the timer goes on"
	log_is_lost=1
}

record() { # TYPE WORD PLANNED ACTUAL REMARK
	stamps=$(date -u '+%Y-%m-%dT%H:%M:%SZ %s')
	record_epoch=${stamps#* }
	is_count "${record_epoch#?}" || {
		epoch_now
		record_epoch=${result}
	}
	record_start="${1}${tab}${stamps%% *}${tab}${record_epoch}${tab}${clock_figure}${tab}${step_number}"
	record_line "${record_start}${tab}${2}${tab}${3}${tab}${4}${tab}${5:--}"
}

# An event at this moment of the step.
record_event() { # WORD [REMARK]
	[ "${log_is_begun}" -eq 1 ] || return 0
	if [ "${is_counting}" -eq 1 ]; then
		since_start
		record event "${1}" - "${result}" "${2:--}"
	else
		record event "${1}" - - "${2:--}"
	fi
}

# An event about a step that is not in the tank.
record_of() { # STEP WORD REMARK
	of_step=${step_number} step_number=${1}
	record event "${2}" - - "${3}"
	step_number=${of_step}
}

# The time of a step by its measured temperature, why it is that, and the plan that follows from it.
record_used() { # STEP
	plan_load "${1}"
	seconds_text $((it_seconds * 100))
	used_seconds=${result}
	plain_text "${it_why}"
	of_step=${step_number} step_number=${1}
	record event used-time "${it_declared}" "${used_seconds}" "${result}"
	step_number=${of_step}
	record_step "${1}" used
}

# Seconds since the step's time starts, with hundredths; sets result.
since_start() {
	seconds_text $((now - pour_at + step_pour * 100))
}

record_planned() { # SINCE KIND UNTIL COUNT
	record_line "${record_plan}-cue${tab}${it_number}${tab}${1}${tab}${2}${tab}${3}${tab}${4}"
}

# One line of the head, by its fields.
record_fields() { # FIELD...
	fields_line=${1}
	shift
	for fields_field; do
		fields_line=${fields_line}${tab}${fields_field}
	done
	record_line "${fields_line}"
}

record_head() {
	log_is_begun=1
	record_line "wetside-log${tab}1"
	record_line "process${tab}${process_name}${tab}${process_title}"
	record_line "fingerprint${tab}${process_fingerprint:--}"
	plain_text "${process_run}"
	[ -z "${result}" ] || record_line "this-run${tab}${result}"
	record_line "clock${tab}${clock_kind}${tab}${clock_boot}${tab}${speed}"
	plan_record
	head_step=1
	while [ "${head_step}" -le "${step_count}" ]; do
		record_step "${head_step}" plan
		head_step=$((head_step + 1))
	done
	record_line "columns${tab}stamp${tab}epoch${tab}clock${tab}step${tab}word${tab}planned${tab}actual${tab}remark"
}

# The plan of a step, as it is now.
record_step() { # STEP PREFIX
	record_plan=${2}
	# The cues are recorded as they come; the step's own lines go before them.
	plan_load "${1}"
	head_line="${2}-step${tab}${1}${tab}${it_name}${tab}${it_bath:--}${tab}${it_bottle}"
	head_line="${head_line}${tab}${it_form}${tab}${it_pour}${tab}${it_drain}"
	record_line "${head_line}${tab}${it_end}${tab}${it_latest}"
	if [ -n "${it_why}" ] && [ "${2}" = plan ]; then
		plain_text "${it_why}"
		record_line "plan-time${tab}${1}${tab}${it_declared}${tab}${it_seconds}${tab}${result}"
	fi
	plan_load "${1}" record
}

# --- reading a log back ---

# Sets scan_state (none, other, done, waiting or counting) and what is needed to go on.
record_scan() { # FILE
	scan_state=none scan_version='' scan_name='' scan_fingerprint='' scan_clock='' scan_boot='' scan_speed=0
	scan_step=1 scan_figure=0 scan_epoch=0 scan_last=0 scan_stamp=''
	scan_cues=0 scan_drain='' scan_again=0 scan_tail=0
	scan_run='' scan_typed='' scan_rows=''
	scan_end='cut off' scan_begun=0
	while IFS=${tab} read -r field_1 field_2 field_3 field_4 field_5 field_6 _ field_8 field_9; do
		case ${field_1} in
		wetside-log) scan_version=${field_2} ;;
		process) scan_name=${field_2} ;;
		fingerprint) scan_fingerprint=${field_2} ;;
		this-run) scan_run=${field_2} ;;
		clock) scan_clock=${field_2} scan_boot=${field_3} scan_speed=${field_4} ;;
		cue | event) scan_event ;;
		*) ;;
		esac
	done <"${1}"
	[ "${scan_state}" != none ] || [ -z "${scan_version}" ] || scan_state=waiting
	[ "${scan_version}" = 1 ] || scan_state=other
	[ "${scan_name}" = "${process_name}" ] || scan_state=other
	[ "${scan_fingerprint}" = "${process_fingerprint:--}" ] || scan_state=other
	# Other film done, another temperature: other times.
	plain_text "${process_run}"
	[ "${scan_run}" = "${result}" ] || scan_state=other
	is_count "${scan_speed}" || scan_state=other
}

# One line of a log; a line that cannot be understood is passed over.
scan_event() {
	is_count "${field_5}" && is_count "${field_3#?}" && is_count "${field_3%"${field_3#?}"}" || return 0
	[ "${field_5}" -le "${step_count}" ] || return 0
	strip_zeros "${field_5}"
	field_5=${result}
	scan_last=${field_3} scan_end='cut off'
	case ${field_1}:${field_6} in
	event:started | event:from) scan_state=waiting scan_step=${field_5} ;;
	event:begun)
		scan_begun=1 scan_state=counting scan_step=${field_5} scan_cues=0 scan_again=0 scan_tail=0 scan_drain=''
		scan_stamp=${field_2} scan_epoch=${field_3} scan_figure=${field_4}
		;;
	event:drain-begun) ! seconds_read "${field_8}" || scan_drain=${field_8} ;;
	event:step-over) scan_state=waiting scan_step=$((field_5 + 1)) ;;
	event:stopped) scan_end=stopped ;;
	event:measured) scan_typed=${field_9%% *} ;;
	event:used-time) ! read_hundredths "${scan_typed}" || scan_rows="${scan_rows} ${field_5}=${result}" ;;
	event:departure) scan_rows="${scan_rows} ${field_5}=-" ;;
	event:finished) scan_state='done' ;;
	cue:*)
		if [ "${field_9#longer}" != "${field_9}" ]; then
			scan_again=$((scan_again + 1))
		elif [ -n "${scan_drain}" ]; then
			scan_tail=$((scan_tail + 1))
		else
			scan_cues=$((scan_cues + 1))
		fi
		;;
	*) ;;
	esac
}

# --- one timer on a log ---

lock_is_held() { # LOG: by a timer that lives
	lock_path=${1}.lock lock_holder=''
	{ read -r lock_holder lock_boot <"${lock_path}"; } 2>/dev/null || return 1
	is_count "${lock_holder}" && [ "${lock_boot:--}" = "${clock_boot}" ] || return 1
	kill -0 "${lock_holder}" 2>/dev/null || ps -p "${lock_holder}" >/dev/null 2>&1
}

lock_take() {
	lock_path=${log_path}.lock
	lock_try && return 0
	# A timer that has just made the file may not have written its number yet.
	[ -s "${lock_path}" ] || sleep 1
	! lock_is_held "${log_path}" || return 1
	# Left behind by a timer that is gone. Only one of several timers gets to move it away.
	lock_stale=${lock_path}.$$
	mv "${lock_path}" "${lock_stale}" 2>/dev/null || return 1
	{ read -r lock_moved lock_boot <"${lock_stale}"; } 2>/dev/null || lock_moved=''
	if [ "${lock_moved}" != "${lock_holder}" ]; then
		mv "${lock_stale}" "${lock_path}"
		return 1
	fi
	rm -f "${lock_stale}"
	lock_try
}

lock_try() {
	(
		set -C
		echo "$$ ${clock_boot}" >"${lock_path}"
	) 2>/dev/null || return 1
	lock_is_ours=1
}

lock_drop() {
	[ "${lock_is_ours}" -eq 1 ] || return 0
	lock_is_ours=0
	rm -f "${lock_path}"
}

# --- choosing the log ---

log_default_folder() {
	case ${XDG_STATE_HOME:-} in
	/*) log_folder=${XDG_STATE_HOME}/wetside ;;
	*)
		[ -n "${HOME:-}" ] || give_up 'no HOME to keep the log in; name a file with --log'
		log_folder=${HOME}/.local/state/wetside
		;;
	esac
	log_rehearsal=''
	[ "${speed}" -eq 1 ] || log_rehearsal=-rehearsal
}

# The newest run of this plan in the default folder, if it is unfinished and less than a day old; sets log_path, else
# empty. Other loads, and processes whose names differ in letters that no file name has, may have begun theirs later.
log_find_unfinished() {
	set +f
	set -- "${log_folder}/${process_file}${log_rehearsal}-"[0-9]???????T*.log
	set -f
	log_left=$#
	while [ "${log_left}" -gt 0 ]; do
		eval "log_path=\${${log_left}}"
		log_left=$((log_left - 1))
		[ -f "${log_path}" ] || continue
		! lock_is_held "${log_path}" || continue
		record_scan "${log_path}"
		log_age
		[ "${scan_last}" -eq 0 ] || [ "${result}" -le 86400 ] || break
		case ${scan_state} in
		other) continue ;;
		waiting | counting) [ "${scan_begun}" -eq 0 ] || return 0 ;;
		*) ;;
		esac
		break
	done
	log_path='' scan_state=none
}

log_age() { # sets result to the seconds since the last line of the log read
	epoch_now
	result=$((result - scan_last))
}

log_new_default() {
	mkdir -p "${log_folder}" 2>/dev/null || give_up "no folder for the log: ${log_folder}; name a file with --log"
	log_path=${log_folder}/${process_file}${log_rehearsal}-$(date -u +%Y%m%dT%H%M%SZ).log
	# The names of two runs that begin in one second would be the same.
	while [ -e "${log_path}" ]; do
		sleep 1
		log_path=${log_folder}/${process_file}${log_rehearsal}-$(date -u +%Y%m%dT%H%M%SZ).log
	done
}

# A log in which nothing was written is not left behind.
log_drop() {
	[ "${log_is_new}${lock_is_ours}" = 11 ] || return 0
	[ -s "${log_path}" ] || rm -f "${log_path}"
	log_is_new=0
}

# Opens the log: sets log_path, takes the lock, and leaves in scan_state whether there is a run to go on with.
log_open() {
	log_is_lost=0 lock_is_ours=0 scan_state=none
	if [ -z "${log_path}" ]; then
		log_default_folder
		[ "${resume}" = no ] || [ "${has_keys}${resume}" = 0ask ] || log_find_unfinished
		[ -n "${log_path}" ] || log_new_default
	fi
	[ -e "${log_path}" ] || log_is_new=1
	{ true >>"${log_path}"; } 2>/dev/null || give_up "the log cannot be written: ${log_path}"
	[ -f "${log_path}" ] || give_up "the log is not a file: ${log_path}"
	lock_take || give_up "another timer runs on this log: ${log_path} (its mark is ${lock_path})"
	[ -s "${log_path}" ] || return 0
	log_is_begun=1
	record_scan "${log_path}"
	case ${scan_state} in
	other | none) give_up "the log is of another plan: ${log_path}; name another file with --log" ;;
	done) give_up "the run in this log is finished: ${log_path}; name another file with --log" ;;
	*) ;;
	esac
	[ "${scan_speed}" -eq "${speed}" ] ||
		give_up "the run in this log went ${scan_speed} times as fast (--rehearse ${scan_speed}): ${log_path}"
	[ "${resume}" != no ] || give_up "this log holds an unfinished run: ${log_path}; name another file with --log"
	# A last line that was cut off.
	log_end=$(tail -c 1 "${log_path}") || log_end=''
	[ -z "${log_end}" ] || echo >>"${log_path}"
}
