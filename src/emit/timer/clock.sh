# shellcheck shell=sh disable=SC2034,SC2154 # the parts of the timer share their variables
#
# The clock: hundredths of a second since the script started, times the speed of a rehearsal. Counted from a base, since
# some shells count in 32 bits. Every wait is for a point in time, so a sleep that overruns shifts nothing after it.

clock_choose() {
	clock_seen=0 clock_boot=-
	if [ -n "${clock_file}" ]; then
		clock_kind='file'
	elif { read -r clock_figure clock_overrun </proc/uptime; } 2>/dev/null && clock_split "${clock_figure}"; then
		# It goes on while the machine sleeps, and nobody sets it.
		clock_kind=uptime
		{ read -r clock_boot </proc/sys/kernel/random/boot_id; } 2>/dev/null || clock_boot=-
	else
		clock_kind='date'
	fi
	clock_sample || give_up "the clock cannot be read: ${clock_file:-${clock_kind}}"
	clock_base=${clock_whole}
	clock_read
}

# Splits figures such as 1592.38 into whole seconds and hundredths; fails on anything else.
clock_split() { # FIGURES
	case ${1} in
	*.*) clock_whole=${1%%.*} clock_part=${1#*.} ;;
	*) clock_whole=${1} clock_part=00 ;;
	esac
	case ${clock_part} in
	[0-9]) clock_part=${clock_part}0 ;;
	[0-9][0-9]*) clock_part=${clock_part%"${clock_part#??}"} ;;
	*) return 1 ;;
	esac
	case ${clock_whole} in
	'' | *[!0-9]* | ???????????*) return 1 ;;
	*) ;;
	esac
	strip_zeros "${clock_part}"
	clock_part=${result}
	strip_zeros "${clock_whole}"
	clock_whole=${result}
}

epoch_now() { # sets result to the seconds since 1970
	result=$(date -u +%s)
	case ${result} in
	*[!0-9]* | '') result=$(awk 'BEGIN { srand(); print srand() }') ;;
	*) ;;
	esac
}

clock_sample() {
	case ${clock_kind} in
	uptime) read -r clock_figure clock_overrun </proc/uptime ;;
	file) read -r clock_figure clock_overrun <"${clock_file}" || return 1 ;;
	*)
		epoch_now
		clock_figure=${result}
		;;
	esac
	clock_split "${clock_figure}" || return 1
	[ "${clock_kind}" = date ] || return 0
	# A wall clock set back must not hold the run up.
	[ "${clock_seen}" -le "${clock_whole}" ] || clock_base=$((clock_base - clock_seen + clock_whole))
	clock_seen=${clock_whole}
}

clock_read() { # sets now
	clock_sample || give_up "the clock cannot be read: ${clock_file:-${clock_kind}}"
	now=$((((clock_whole - clock_base) * 100 + clock_part) * speed))
}

# When something noted in a log happened, on this clock: by the same clock if the machine has not been restarted, else
# by the wall clock. Two days are as good as any longer time, and stay below 2^31 at every speed. Sets result.
clock_recall() { # CLOCK-KIND BOOT FIGURE EPOCH
	clock_read
	recalled_figure=${clock_figure} recalled_whole=${clock_whole} recalled_part=${clock_part}
	if [ "${1}" = "${clock_kind}" ] && [ "${2}" = "${clock_boot}" ] && clock_split "${3}"; then
		recalled=$((recalled_whole - clock_whole)) recalled_part=$((recalled_part - clock_part))
	else
		epoch_now
		recalled=$((result - ${4})) recalled_part=0
	fi
	[ "${recalled}" -ge 0 ] || recalled=0
	[ "${recalled}" -le 172800 ] || recalled=172800
	result=$((now - (recalled * 100 + recalled_part) * speed))
	clock_figure=${recalled_figure}
}

# Waits until then without looking at the keyboard. POSIX sleeps in whole seconds: a rest of less than half a second is
# let go, so the error stays below that and does not grow.
clock_wait() { # CENTISECONDS
	while clock_read && wait_left=$(((${1} - now) / speed)) && [ "${wait_left}" -ge 50 ]; do
		if [ "${clock_kind}" = file ]; then
			clock_advance "${wait_left}"
			continue
		fi
		wait_seconds=$(((wait_left + 50) / 100))
		[ "${wait_seconds}" -le 3600 ] || wait_seconds=3600
		# In the background, so that a signal is handled at once.
		sleeps_after=${!:-} is_asleep=1
		sleep "${wait_seconds}" &
		wait "$!" || true
		is_asleep=0
	done
}

# A signal may come before the number of the sleep could be noted, so the last job is looked at.
clock_wake() {
	[ "${is_asleep}" -eq 1 ] && [ "${!:-}" != "${sleeps_after}" ] || return 0
	is_asleep=0
	# A job that has only just begun could still lose a gentler signal.
	kill -s KILL "$!" 2>/dev/null || true
}

# The tests' clock: sleeping is writing a later time into its file, at most ten seconds on, with the overrun that stands
# behind the time.
clock_advance() { # CENTISECONDS
	advance=${1}
	[ "${advance}" -le 1000 ] || advance=1000
	clock_seconds=${clock_whole}
	clock_hundredths=${clock_part}
	if clock_split "${clock_overrun:-0}"; then
		advance=$((advance + clock_whole * 100 + clock_part))
	fi
	advance=$((advance + clock_hundredths))
	clock_seconds=$((clock_seconds + advance / 100))
	clock_hundredths=$((advance % 100))
	[ "${clock_hundredths}" -ge 10 ] || clock_hundredths=0${clock_hundredths}
	echo "${clock_seconds}.${clock_hundredths} ${clock_overrun:-}" >"${clock_file}"
}
