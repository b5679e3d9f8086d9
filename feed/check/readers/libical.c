/* Reads a calendar from standard input and prints it as libical understood it.
 * Whatever libical objects to stands in that print as an X-LIC-ERROR. */
#include <libical/ical.h>
#include <stdio.h>
#include <stdlib.h>

static char *slurp(FILE *in)
{
    size_t room = 1 << 16, used = 0, got;
    char *text = malloc(room + 1);

    while (text && (got = fread(text + used, 1, room - used, in)) > 0) {
        used += got;
        if (used == room)
            text = realloc(text, (room *= 2) + 1);
    }
    if (text)
        text[used] = '\0';
    return text;
}

int main(void)
{
    char *text = slurp(stdin);
    icalcomponent *calendar = text ? icalparser_parse_string(text) : NULL;
    int sound;

    if (!calendar) {
        fputs("not a calendar\n", stderr);
        return 1;
    }
    /* The check writes what it finds into the calendar: count after it. */
    sound = icalrestriction_check(calendar);
    sound = icalcomponent_count_errors(calendar) == 0 && sound;
    fputs(icalcomponent_as_ical_string(calendar), stdout);
    return sound ? 0 : 1;
}
