/* libespeak-ng, loaded when it is wanted. Its functions are declared here as its version 1 has them (its header
 * speak_lib.h), so that the program is built the same whether it is there or not. */
#include "commands/voice.h"

#include <dlfcn.h>
#include <stdlib.h>
#include <string.h>

#include "commands/invocation.h"
#include "emit/sound/signal.h"

/* From speak_lib.h. */
#define OUTPUT_SYNCHRONOUS 2	    /* AUDIO_OUTPUT_SYNCHRONOUS: samples come by a callback, no device is touched */
#define INITIALIZE_DONT_EXIT 0x8000 /* espeakINITIALIZE_DONT_EXIT */
#define TEXT_IS_UTF8 1		    /* espeakCHARS_UTF8; without espeakSSML a text is never markup */
#define POSITION_CHARACTER 1	    /* POS_CHARACTER */
#define BUFFER_MS 200
#define LANGUAGE "en" /* of the wording of cues */

struct event { /* the beginning of espeak_EVENT */
	int type;
	unsigned unique_identifier;
	int text_position, length, audio_position, sample;
	void *user_data;
};

typedef int callback(short *samples, int count, struct event *events);

struct voice {
	void *library;
	int (*initialize)(int output, int buffer_ms, const char *path, int options);
	void (*set_callback)(callback *function);
	int (*set_voice)(const char *name);
	int (*synthesize)(const void *text, size_t size, unsigned position, int position_type, unsigned end,
			  unsigned flags, unsigned *identifier, void *user_data);
	int (*terminate)(void);
};

/* Under which name the library goes, by system. */
static const char *const names[] = { "libespeak-ng.so.1", "libespeak-ng.1.dylib" };

/* The library calls this with the next samples of what it says, and with none at the end. */
static int take_samples(short *samples, int count, struct event *events)
{
	struct speech *speech = events == NULL ? NULL : events->user_data;

	if (speech == NULL || samples == NULL || count <= 0)
		return 0;
	if (speech->count + (size_t)count > speech->capacity)
		speech->items = arena_grow(speech->arena, speech->items, speech->count, &speech->capacity,
					   speech->count + (size_t)count, sizeof *speech->items);
	memcpy(speech->items + speech->count, samples, (size_t)count * sizeof *samples);
	speech->count += (size_t)count;
	return 0;
}

static bool say(void *data, struct text text, struct speech *speech)
{
	const struct voice *voice = data;
	struct text copy = text_copy(speech->arena, text); /* with a NUL behind it */

	speech->count = 0;
	return voice->synthesize(copy.data, copy.length + 1, 0, POSITION_CHARACTER, 0, TEXT_IS_UTF8, NULL, speech) == 0;
}

static bool find(void *library, const char *name, void *function)
{
	void *place = dlsym(library, name);

	memcpy(function, &place, sizeof place); /* POSIX: a function fits into a pointer to an object */
	return place != NULL;
}

static bool find_functions(struct voice *voice)
{
	void *library = voice->library;

	return find(library, "espeak_Initialize", &voice->initialize) &&
	       find(library, "espeak_SetSynthCallback", &voice->set_callback) &&
	       find(library, "espeak_SetVoiceByName", &voice->set_voice) &&
	       find(library, "espeak_Synth", &voice->synthesize) &&
	       find(library, "espeak_Terminate", &voice->terminate);
}

static int give_up(struct voice *voice, const char *why)
{
	dlclose(voice->library);
	return complain("--voice: libespeak-ng %s", why);
}

int voice_open(struct speaker *speaker, struct arena *arena)
{
	struct voice *voice = ARENA_NEW(arena, struct voice);

	/* The library looks for a sound server though it is not to play anything, and might have one started. */
	setenv("PULSE_SERVER", "unix:/dev/null", 1);
	for (size_t i = 0; i < sizeof names / sizeof *names && voice->library == NULL; i++)
		voice->library = dlopen(names[i], RTLD_NOW | RTLD_LOCAL);
	if (voice->library == NULL)
		return complain(
			"--voice wants libespeak-ng, which is not installed here (Debian: libespeak-ng1); without "
			"--voice the track has its signals alone");
	if (!find_functions(voice))
		return give_up(voice, "is of a version that is not known");
	if (voice->initialize(OUTPUT_SYNCHRONOUS, BUFFER_MS, NULL, INITIALIZE_DONT_EXIT) != SOUND_RATE_HZ) {
		voice->terminate();
		return give_up(voice, "has no data, or does not speak at 22,050 Hz");
	}
	if (voice->set_voice(LANGUAGE) != 0) {
		voice->terminate();
		return give_up(voice, "has no English voice");
	}
	voice->set_callback(take_samples);
	*speaker = (struct speaker){ .data = voice, .say = say };
	return 0;
}

void voice_close(struct speaker *speaker)
{
	struct voice *voice = speaker->data;

	voice->terminate();
	dlclose(voice->library);
}
