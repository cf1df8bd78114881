/* Days of the calendar. */
#include "model/date.h"

struct date_parts {
	int64_t year;
	int64_t month;
	int64_t day;
};

static int64_t digits_value(const char *digits, size_t count)
{
	int64_t value = 0;

	for (size_t i = 0; i < count; i++)
		value = value * 10 + (digits[i] - '0');
	return value;
}

static struct date_parts date_split(struct text date)
{
	return (struct date_parts){ digits_value(date.data, 4), digits_value(date.data + 5, 2),
				    digits_value(date.data + 8, 2) };
}

static bool has_shape(struct text date)
{
	static const char shape[] = "dddd-dd-dd";

	if (date.length != sizeof shape - 1)
		return false;
	for (size_t i = 0; i < date.length; i++) {
		bool is_digit = date.data[i] >= '0' && date.data[i] <= '9';

		if (shape[i] == 'd' ? !is_digit : date.data[i] != shape[i])
			return false;
	}
	return true;
}

bool date_is_valid(struct text date)
{
	static const int month_days[] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };
	struct date_parts parts;
	bool is_leap;

	if (!has_shape(date))
		return false;
	parts = date_split(date);
	is_leap = (parts.year % 4 == 0 && parts.year % 100 != 0) || parts.year % 400 == 0;
	return parts.month >= 1 && parts.month <= 12 && parts.day >= 1 &&
	       parts.day <= month_days[parts.month - 1] + (parts.month == 2 && is_leap);
}

/* Years are counted from a March, so that the leap day comes last: 153 days are five months from there on. */
int64_t date_days(struct text date)
{
	struct date_parts parts = date_split(date);
	int64_t year = parts.month <= 2 ? parts.year - 1 : parts.year;
	int64_t month = parts.month <= 2 ? parts.month + 9 : parts.month - 3;
	int64_t century_days = year / 4 - year / 100 + year / 400;

	return year * 365 + century_days + (month * 153 + 2) / 5 + parts.day - 719469;
}

struct text date_print(struct arena *arena, int64_t days)
{
	int64_t since = days + 719468; /* from 0000-03-01 */
	int64_t era = since / 146097;
	int64_t of_era = since % 146097;
	int64_t year = (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365;
	int64_t of_year = of_era - (365 * year + year / 4 - year / 100);
	int64_t month = (5 * of_year + 2) / 153;
	int64_t day = of_year - (153 * month + 2) / 5 + 1;

	month = month < 10 ? month + 3 : month - 9;
	return text_format(arena, "%04lld-%02lld-%02lld", (long long)(year + era * 400 + (month <= 2)),
			   (long long)month, (long long)day);
}

const char *date_weekday(int64_t days)
{
	static const char *const names[] = { "Thursday", "Friday",  "Saturday", "Sunday",
					     "Monday",	 "Tuesday", "Wednesday" }; /* 1970-01-01 was a Thursday */

	return names[(days % 7 + 7) % 7];
}

struct text date_print_with_weekday(struct arena *arena, int64_t days)
{
	struct text date = date_print(arena, days);

	return text_format(arena, "%s\xC2\xA0%.*s", date_weekday(days), TEXT_ARGUMENT(date));
}
