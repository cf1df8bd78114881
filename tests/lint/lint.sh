#!/bin/sh
# The linters of `make lint`, a test each. What they found nothing in is not looked at again until it changes.
# builds: plain
# lasts: 60
# timeout: 900
cd "$(dirname "$0")/../.." || exit 1
status=0
lint() {
	if ! command -v "$2" >/dev/null; then
		echo "skip - $1: there is no $2"
	elif output=$(make --no-print-directory "$1" 2>&1); then
		echo "ok - $1"
	else
		status=1
		echo "not ok - $1"
		printf '%s\n' "$output"
	fi
}
lint lint-clang clang
lint lint-tidy clang-tidy
lint lint-cppcheck cppcheck
lint lint-shell shellcheck
exit $status
