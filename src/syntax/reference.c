#include "syntax/reference.h"

#include <string.h>

#include "embedded/reference_ebnf.h"

struct example_row {
	struct text place, clause, says;
};

#define EXAMPLES_ENOUGH 3
#define EXAMPLES_AT_MOST 6
#define LITERAL(string)                                                                                                \
	{                                                                                                              \
		(string), sizeof(string) - 1                                                                           \
	}

static const struct example_row examples[] = {
#define EXAMPLE(place, clause, says) { LITERAL(place), LITERAL(clause), LITERAL(says) },
#include "syntax/examples.def"
#undef EXAMPLE
};

/* Reads the grammar rule by rule. */
struct grammar_reader {
	const char *at, *end;
};

struct grammar_rule {
	struct text name;
	const char *start, *end; /* behind "=", at ";" */
};

static bool is_word_byte(char byte)
{
	return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || (byte >= '0' && byte <= '9') ||
	       byte == '-';
}

/* Behind the text in quotes or the comment that begins at `at`; `at` itself where neither does. */
static const char *skip_whole(const char *at, const char *end)
{
	const char *close;

	if (end - at >= 2 && at[0] == '(' && at[1] == '*') {
		for (close = at + 2; close + 1 < end && !(close[0] == '*' && close[1] == ')'); close++)
			continue;
		return close + 2;
	}
	if (at < end && *at == '"') {
		close = memchr(at + 1, '"', (size_t)(end - at - 1));
		return close == NULL ? end : close + 1;
	}
	return at;
}

/* Behind what is at `at`: a text in quotes, a comment, or one byte. */
static const char *step_over(const char *at, const char *end)
{
	const char *behind = skip_whole(at, end);

	return behind > at ? behind : at + 1;
}

static bool next_rule(struct grammar_reader *reader, struct grammar_rule *rule)
{
	while (reader->at < reader->end && !is_word_byte(*reader->at))
		reader->at = step_over(reader->at, reader->end);
	if (reader->at >= reader->end)
		return false;
	rule->name = (struct text){ reader->at, 0 };
	while (reader->at < reader->end && is_word_byte(*reader->at))
		reader->at++;
	rule->name.length = (size_t)(reader->at - rule->name.data);
	while (reader->at < reader->end && *reader->at != '=')
		reader->at++;
	rule->start = reader->at + 1;
	while (reader->at < reader->end && *reader->at != ';')
		reader->at = step_over(reader->at, reader->end);
	rule->end = reader->at++;
	return true;
}

/* The alternative that begins at `at`; `at` moves behind its "|". */
static struct text next_alternative(const char **at, const char *end)
{
	struct text whole = { *at, 0 };
	int depth = 0;

	while (*at < end && !(**at == '|' && depth == 0)) {
		bool is_comment = **at == '(' && (*at)[1] == '*';

		if (!is_comment && strchr("([{", **at) != NULL)
			depth++;
		else if (strchr(")]}", **at) != NULL)
			depth--;
		*at = step_over(*at, end);
	}
	whole.length = (size_t)(*at - whole.data);
	(*at)++;
	return whole;
}

/* An alternative on one line, without comments. */
static void append_flat(struct text_builder *builder, struct text form)
{
	const char *end = form.data + form.length;
	bool wants_blank = false;
	bool is_first = true;

	for (const char *at = form.data; at < end;) {
		const char *behind = skip_whole(at, end);

		if (*at == ' ' || *at == '\n' || (behind > at && *at == '(')) {
			wants_blank = !is_first;
			at = behind > at ? behind : at + 1;
			continue;
		}
		if (wants_blank)
			text_append_byte(builder, ' ');
		wants_blank = is_first = false;
		behind = behind > at ? behind : at + 1;
		text_append(builder, (struct text){ at, (size_t)(behind - at) });
		at = behind;
	}
}

/* Whether a form holds the word: in quotes (a keyword), or as the name of a rule. */
static bool form_holds(struct text form, struct text word, bool is_quoted)
{
	const char *end = form.data + form.length;

	for (const char *at = form.data; at < end;) {
		const char *behind = skip_whole(at, end);

		if (behind > at) {
			if (is_quoted && *at == '"' &&
			    text_equal((struct text){ at + 1, (size_t)(behind - at) - 2 }, word))
				return true;
		} else if (is_word_byte(*at)) {
			while (behind < end && is_word_byte(*behind))
				behind++;
			if (!is_quoted && text_equal((struct text){ at, (size_t)(behind - at) }, word))
				return true;
		} else {
			behind = at + 1;
		}
		at = behind;
	}
	return false;
}

static struct grammar_reader read_grammar(void)
{
	return (struct grammar_reader){ reference_ebnf, reference_ebnf + reference_ebnf_length };
}

/* Rules that are lists of clauses say nothing about one word. */
static bool is_small(struct text name)
{
	static const struct text clause = { "-clause", 7 };

	return !text_equal(name, TEXT("file")) && !text_equal(name, TEXT("declaration")) &&
	       !text_equal(name, TEXT("end")) &&
	       !(name.length > clause.length &&
		 text_equal((struct text){ name.data + name.length - clause.length, clause.length }, clause));
}

/* The small rules that the forms of a keyword name, unless the keyword itself stands in them. */
static void append_named_rules(struct text_builder *builder, struct text forms, struct text keyword)
{
	struct grammar_reader reader = read_grammar();
	struct grammar_rule rule;

	while (next_rule(&reader, &rule)) {
		struct text body = { rule.start, (size_t)(rule.end - rule.start) };

		if (!is_small(rule.name) || !form_holds(forms, rule.name, false) || form_holds(body, keyword, true))
			continue;
		text_append(builder, rule.name);
		text_append_string(builder, " = ");
		append_flat(builder, body);
		text_append_byte(builder, '\n');
	}
}

void reference_append_grammar(struct text_builder *builder, struct text keyword)
{
	struct grammar_reader reader = read_grammar();
	struct text_builder forms = text_builder_start(builder->arena);
	struct grammar_rule rule;

	while (next_rule(&reader, &rule)) {
		for (const char *at = rule.start; at < rule.end;) {
			struct text form = next_alternative(&at, rule.end);

			if (!form_holds(form, keyword, true))
				continue;
			text_append(&forms, rule.name);
			text_append_string(&forms, " = ");
			append_flat(&forms, form);
			text_append_byte(&forms, '\n');
		}
	}
	text_append(builder, text_builder_text(&forms));
	append_named_rules(builder, text_builder_text(&forms), keyword);
}

/* How an example shows a keyword. */
enum showing { SHOWS_NOTHING, SHOWS_AMONG_OTHERS, SHOWS_IN_LINE, SHOWS_FIRST };

static enum showing showing_of(struct text clause, struct text keyword)
{
	const char *end = clause.data + clause.length;
	bool is_first = true;

	for (const char *at = clause.data; at < end;) {
		const char *behind = skip_whole(at, end);
		bool is_word = is_word_byte(*at);

		while (is_word && behind < end && is_word_byte(*behind))
			behind++;
		if (is_word && text_equal((struct text){ at, (size_t)(behind - at) }, keyword)) {
			if (is_first)
				return SHOWS_FIRST;
			return memchr(clause.data, '\n', clause.length) == NULL ? SHOWS_IN_LINE : SHOWS_AMONG_OTHERS;
		}
		is_first = is_first && !is_word;
		at = behind > at ? behind : at + 1;
	}
	return SHOWS_NOTHING;
}

/* Those that begin with the keyword come first; long ones only where there is little else. */
void reference_append_examples(struct text_builder *builder, struct text keyword)
{
	size_t shown = 0;

	for (enum showing wanted = SHOWS_FIRST; wanted > SHOWS_NOTHING; wanted--) {
		size_t limit = wanted == SHOWS_AMONG_OTHERS ? EXAMPLES_ENOUGH : EXAMPLES_AT_MOST;

		for (size_t i = 0; i < sizeof examples / sizeof examples[0] && shown < limit; i++) {
			const struct example_row *row = &examples[i];

			if (showing_of(row->clause, keyword) != wanted)
				continue;
			text_append_format(builder, "\n%.*s\n\n```wetside fragment=%.*s\n%.*s\n```\n",
					   TEXT_ARGUMENT(row->says), TEXT_ARGUMENT(row->place),
					   TEXT_ARGUMENT(row->clause));
			shown++;
		}
	}
}
