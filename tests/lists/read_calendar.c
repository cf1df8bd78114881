/* Reads an iCalendar stream from standard input with libical and prints what it understood, one line a field. Compiled
 * by calendars.py; no part of the product. */
#include <libical/ical.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *next_line(char *buffer, size_t size, void *file)
{
	return fgets(buffer, (int)size, file);
}

static void print_time(const char *name, struct icaltimetype at, const icaltimezone *zone)
{
	struct icaltimetype utc;

	printf("%s %s %d\n", name, icaltime_as_ical_string(at), icaltime_is_utc(at));
	if (zone == NULL && !icaltime_is_utc(at))
		return;
	utc = icaltime_convert_to_zone(at, icaltimezone_get_utc_timezone());
	printf("%s-utc %s\n", name, icaltime_as_ical_string(utc));
}

/* The start or end with the zone that stands in the stream. */
static void put_time(icalcomponent *calendar, icalcomponent *event, icalproperty_kind kind, const char *name)
{
	icalproperty *property = icalcomponent_get_first_property(event, kind);
	icalparameter *parameter = icalproperty_get_first_parameter(property, ICAL_TZID_PARAMETER);
	struct icaltimetype at = icalvalue_get_datetime(icalproperty_get_value(property));
	icaltimezone *zone = NULL;

	if (parameter != NULL)
		zone = icalcomponent_get_timezone(calendar, icalparameter_get_tzid(parameter));
	if (parameter != NULL && zone == NULL)
		printf("lost-zone %s\n", icalparameter_get_tzid(parameter));
	if (zone != NULL)
		at = icaltime_set_timezone(&at, zone);
	print_time(name, at, zone);
}

int main(void)
{
	icalparser *parser = icalparser_new();
	icalcomponent *calendar;
	icalcomponent *event;

	icalerror_set_errors_are_fatal(0);
	icalparser_set_gen_data(parser, stdin);
	calendar = icalparser_parse(parser, next_line);
	if (calendar == NULL)
		return 1;
	printf("kind %s\n", icalcomponent_kind_to_string(icalcomponent_isa(calendar)));
	printf("restrictions %d\n", icalrestriction_check(calendar));
	printf("errors %d\n", icalcomponent_count_errors(calendar));
	for (event = icalcomponent_get_first_component(calendar, ICAL_VEVENT_COMPONENT); event != NULL;
	     event = icalcomponent_get_next_component(calendar, ICAL_VEVENT_COMPONENT)) {
		icalproperty *words = icalcomponent_get_first_property(event, ICAL_DESCRIPTION_PROPERTY);
		const char *summary = icalcomponent_get_summary(event);

		printf("event %s\n", icalcomponent_get_uid(event));
		put_time(calendar, event, ICAL_DTSTART_PROPERTY, "start");
		put_time(calendar, event, ICAL_DTEND_PROPERTY, "end");
		printf("summary %s\n", summary);
		for (const char *at = words == NULL ? "" : icalproperty_get_description(words); *at != '\0';) {
			size_t length = strcspn(at, "\n");

			printf("line %.*s\n", (int)length, at);
			at += length + (at[length] == '\n');
		}
	}
	icalcomponent_free(calendar);
	icalparser_free(parser);
	return 0;
}
