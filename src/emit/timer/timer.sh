# shellcheck shell=sh disable=SC2034,SC2154 # the parts of the timer share their variables
#
# The run: one step after the other, its ends, and going on with one that was cut off.

complain() { # TEXT
	printf '%s: %s\n' "${0##*/}" "${1}" >&2 || true
}

give_up() { # TEXT
	terminal_restore
	complain "${1}"
	log_drop
	lock_drop
	trap - EXIT
	exit 2
}

# --- ends ---

on_exit() {
	clock_wake
	terminal_restore
	log_drop
	lock_drop
}

on_signal() { # NAME STATUS
	trap '' INT TERM HUP
	clock_read
	record_event signal "${1}"
	on_exit
	trap - EXIT
	exit "${2}"
}

on_interrupt() {
	[ "${has_keys}" -eq 1 ] || on_signal INT 130
	is_interrupted=1
}

leave() { # WORD STATUS
	clock_read
	record_event "${1}"
	on_exit
	trap - EXIT
	if [ "${1}" = finished ]; then
		printf 'Finished. ' || true
	elif [ -n "${leave_name}" ]; then
		printf 'Stopped in step %s, %s. ' "${leave_number}" "${leave_name}" || true
	fi
	[ ! -s "${log_path}" ] || printf 'The log is %s\n' "${log_path}" || true
	exit "${2}"
}

# --- steps ---

step_drains() { # REMARK
	clock_read
	drain_begin "${now}"
	since_start
	record event drain-begun "${drain_planned}" "${result}" "${1}"
	say 'draining'
}

step_run() { # STEP
	plan_take_next "${1}"
	leave_number=${next_number} leave_name=${next_name}
	if [ "${scan_state}" = counting ]; then
		plan_take_step "${1}"
		step_recall
	else
		await_pour
		plan_take_step "${1}"
		cues_start
		record_event begun
	fi
	scan_state=none
	plan_take_next $((${1} + 1))
	[ "${light_step}" -eq 0 ] || [ "${1}" -le "${light_step}" ] || light_is_allowed=1
	mode=count message=''
	[ "${paints}" -eq 0 ] || terminal_measure
	step_count_down
	record_event step-over
	is_counting=0 step_ended_at=${now}
}

step_count_down() {
	while [ "${is_over}" -eq 0 ]; do
		if [ "${has_keys}" -eq 0 ]; then
			step_go_on
			continue
		fi
		tick
		case ${key} in
		interrupt | m) menu ;;
		enter) [ "${is_open}" -eq 0 ] || step_drains 'by the user' ;;
		n) [ "${next_number}" -eq 0 ] || [ "${next_is_ready}" -eq 1 ] || ready_make || message='' ;;
		*) ;;
		esac
	done
}

# Without a keyboard: to the next cue; an open step drains at its earliest end.
step_go_on() {
	if [ "${is_open}" -eq 1 ]; then
		step_drains 'at the earliest end'
	elif cue_peek; then
		clock_wait "${cue_due}"
		cues_fire 50
	else
		is_over=1
	fi
}

# Takes a step up that was cut off: what its log calls done is done, what came due since comes late.
step_recall() {
	clock_recall "${scan_clock}" "${scan_boot}" "${scan_figure}" "${scan_epoch}"
	cues_start
	pour_at=${result}
	recall_cues "${scan_cues}"
	again_count=${scan_again}
	if [ -n "${scan_drain}" ]; then
		seconds_read "${scan_drain}"
		drain_begin $((pour_at - step_pour * 100 + result))
		recall_cues "${scan_tail}"
	fi
}

recall_cues() { # HOW-MANY
	recall_left=${1}
	while [ "${recall_left}" -gt 0 ] && cue_peek; do
		cue_take
		cue_settle
		recall_left=$((recall_left - 1))
	done
}

# --- what is said before the first step ---

welcome() {
	[ "${light_step}" -eq 0 ] || {
		plan_load "${light_step}"
		[ "${it_light}" = - ] || light_since=${it_light}
		time_text "${light_since}"
	}
	talk="${step_count} steps. The log is ${log_path}"
	welcome_light=${result:-}
	degrees_text "${process_run}"
	talk="${talk}${result:+${newline}This run: ${result}}"
	if [ "${light_step}" -eq 0 ]; then
		talk="${talk}${newline}Keep the film in the dark until the last step is over."
	elif [ "${light_since}" -le 0 ]; then
		talk="${talk}${newline}Keep the film in the dark until step ${light_step}, ${it_name}."
	else
		talk="${talk}${newline}Keep the film in the dark until step ${light_step}, ${it_name}, ${welcome_light}."
	fi
	talk="${talk}${newline}Gloves on, eyes covered. Household bleach (hypochlorite) never near any of these baths."
	[ "${clock_kind}" != file ] || talk="${talk}${newline}The clock is a file: a test."
	[ "${speed}" -eq 1 ] ||
		talk="${talk}${newline}Rehearsal: cues less than ${speed} s apart may come together."
	talk_ask "begin with step ${first_step}" '' true
}

# Shows talk and waits; sets key to enter or n. What is said may change while it waits.
talk_ask() { # ENTER-WORDS N-WORDS REFRESH
	talk_enter=${1} talk_n=${2} mode=talk
	say "${process_title}"
	say "${talk}"
	[ "${has_keys}" -eq 1 ] || return 0
	keys_drop
	say "Enter: ${1}${2:+; n: ${2}}; q: leave"
	while :; do
		tick
		"${3}"
		case ${key} in
		enter) return 0 ;;
		n) [ -z "${2}" ] || return 0 ;;
		q | interrupt) leave stopped 130 ;;
		*) ;;
		esac
	done
}

# A run that was cut off: where it stands now.
offer() {
	first_step=${scan_step} step_number=${scan_step}
	if [ "${scan_state}" = counting ]; then
		plan_take_step "${scan_step}"
		step_recall
		is_counting=0
	elif [ "${scan_step}" -le "${step_count}" ]; then
		plan_load "${scan_step}"
	fi
	offer_text
	if [ "${resume}" = yes ]; then
		say "${talk}"
		return 0
	fi
	offer_new=''
	[ -n "${log_given}" ] || offer_new='begin a new run'
	talk_ask 'go on' "${offer_new}" offer_text
	[ "${key:-}" = n ] || return 0
	lock_drop
	log_new_default
	scan_state=none first_step=1 log_is_begun=0 log_is_new=1 readings=${given_rows}
	lock_take || give_up "another timer runs on this log: ${log_path}"
}

offer_text() { # sets talk
	talk="This run was ${scan_end}. Its log is ${log_path}"
	if [ "${scan_step}" -gt "${step_count}" ]; then
		talk="${talk}${newline}All its steps are done."
		return 0
	elif [ "${scan_state}" = waiting ]; then
		talk="${talk}${newline}It goes on with step ${scan_step}, ${it_name}."
		return 0
	fi
	offer_since=$(((now - pour_at) / 100 + step_pour))
	time_text "${offer_since}"
	talk="${talk}${newline}Step ${scan_step}, ${step_name}, poured ${scan_stamp}, is at ${result}"
	talk="${talk}${step_time:+ of ${step_time}}."
	if [ "${offer_since}" -lt "${step_end}" ]; then
		time_text $((step_end - offer_since))
		talk="${talk}${newline}${result} to its end."
	elif [ "${step_form}" = exact ]; then
		time_text $((offer_since - step_end))
		talk="${talk}${newline}The step is over since ${result}: drain if the bath is still in."
	else
		talk="${talk}${newline}Its earliest end is past: drain, or go on."
	fi
}

# --- the whole ---

defaults() {
	set -f
	newline='
'
	tab=$(printf '\t') escape=$(printf '\033') carriage_return=$(printf '\r')
	delete=$(printf '\177') backspace=$(printf '\010')
	IFS=" ${tab}${newline}"
	columns_given=${COLUMNS:-} bell_command=${WETSIDE_BELL:-}
	degree='' block='#' cursor=_
	case ${LC_ALL:-${LC_CTYPE:-${LANG:-}}} in
	*UTF-8* | *utf-8* | *UTF8* | *utf8*)
		degree=$(printf '\302\260')
		block=$(printf '\342\226\210')
		;;
	*) ;;
	esac
	is_asleep=0 tty_tenths='' screen_is_taken=0 is_interrupted=0 has_keys=0 paints=0
	lock_is_ours=0 log_is_lost=0 log_is_new=0 log_is_begun=0 log_path='' log_given=''
	clock_file='' clock_figure=- clock_overrun=''
	speed=1 first_step=1 from_given=0 resume=ask asks_bottle=1 asks_measure=1 action=run
	mode=talk talk='' talk_enter='' talk_n='' message='' entry_label='' entry_text='' menu_is_open=0
	step_number=1 step_name='' next_number=-1 next_is_ready=0 is_counting=0 is_over=0 step_ended_at=-
	light_step=0 light_since=0 light_is_allowed=0 it_wanted=0 ahead_known='' strip_known=''
	leave_number='' leave_name='' measured_text='' is_measured=0 bottle_is_right=0
	process_run='' readings='' measured_remark='' given_rows='' scan_rows='' result=''
}

main() {
	defaults
	plan
	options_read "$@"
	case ${action} in
	help) help_text ;;
	steps) list_steps ;;
	cues) list_cues ;;
	*) run ;;
	esac
}

run() {
	[ "${step_count}" -gt 0 ] || give_up 'there are no steps in this process'
	terminal_begin
	clock_choose
	log_open
	trap on_exit EXIT
	trap on_interrupt INT
	trap 'on_signal TERM 143' TERM
	trap 'on_signal HUP 129' HUP
	if [ "${has_keys}" -eq 1 ]; then
		terminal_take_keys
		terminal_take
	fi
	[ "${scan_state}" = none ] || rows_recall
	[ "${scan_state}" = none ] || [ "${from_given}" -eq 1 ] || offer
	step_number=${first_step}
	if [ "${scan_state}" = none ]; then
		welcome
		record_head
		record_event started
	elif [ "${from_given}" -eq 1 ]; then
		scan_state=waiting
		record_event from
	else
		record_event resumed
	fi
	given_from=${first_step}
	[ "${scan_state}" != counting ] || given_from=$((first_step + 1))
	given_record "${given_from}"
	run_steps
	leave finished 0
}

run_steps() {
	[ "${scan_state}" = counting ] || scan_state=none
	while [ "${step_number}" -le "${step_count}" ]; do
		step_run "${step_number}"
		step_number=$((step_number + 1))
	done
	step_number=${step_count}
}
