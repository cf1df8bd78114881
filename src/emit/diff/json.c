/* What differs, as data: docs/schemas/diff.schema.json describes every key. */
#include "emit/diff/wording.h"
#include "emit/emission.h"
#include "emit/json_recipe.h"
#include "emit/outline_json.h"

#define DIFF_FORMAT "wetside-diff/1"

static const char *const matters[] = {
	[OUTLINE_RUN] = "run", [OUTLINE_RECORD] = "record", [OUTLINE_WORDING] = "wording", [OUTLINE_DERIVED] = "derived"
};

static const char *change_of(const void *old, const void *new)
{
	return old == NULL ? "added" : new == NULL ? "removed" : "changed";
}

static void put_name(struct json_node node, const char *key, const struct outline *thing)
{
	json_recipe_text_or_null(node, key, thing == NULL ? TEXT("") : thing->name);
}

static void put_thing_name(struct json_node node, const struct outline *old, const struct outline *new)
{
	put_name(node, "old_name", old);
	put_name(node, "new_name", new);
}

static void put_difference(struct json_node list, const struct difference *difference, struct arena *arena)
{
	const struct outline *old = difference->old;
	const struct outline *new = difference->new;
	struct json_node node = json_node_object(list, NULL);

	json_node_text(node, "fact", text_from(new->key));
	json_node_text(node, "changes", text_from(matters[difference_matter(difference)]));
	json_node_text(node, "old_words", difference_fact_words(old, new, arena));
	json_node_text(node, "new_words", difference_fact_words(new, old, arena));
	outline_json_put(node, "old", old);
	outline_json_put(node, "new", new);
}

static void put_within(struct json_node node, const struct difference_subject *within)
{
	struct json_node object;

	if (within == NULL) {
		json_node_null(node, "within");
		return;
	}
	object = json_node_object(node, "within");
	json_node_text(object, "kind", text_from(within->thing->label));
	put_thing_name(object, within->old, within->new);
}

static void put_whole(struct json_node node, const char *key, const struct outline *thing, bool is_wanted)
{
	if (is_wanted && thing != NULL)
		outline_json_put(node, key, thing);
	else
		json_node_null(node, key);
}

static void put_subject(struct json_node list, const struct difference_subject *subject, struct arena *arena)
{
	bool is_whole = subject->old == NULL || subject->new == NULL;
	struct json_node node = json_node_object(list, NULL);
	struct json_node facts;

	json_node_text(node, "kind", text_from(subject->thing->label));
	put_within(node, subject->within);
	put_thing_name(node, subject->old, subject->new);
	json_node_text(node, "change", text_from(change_of(subject->old, subject->new)));
	json_node_flag(node, "is_renamed", subject->is_renamed);
	json_node_flag(node, "is_moved", subject->is_moved);
	json_recipe_text_or_null(node, "after", subject->after);
	json_node_text(node, "words", difference_subject_words(subject, arena));
	json_node_text(node, "wording", difference_subject_wording(subject, arena));
	put_whole(node, "old", subject->old, is_whole);
	put_whole(node, "new", subject->new, is_whole);
	facts = json_node_list(node, "facts");
	for (const struct difference *difference = subject->first; difference != NULL; difference = difference->next)
		put_difference(facts, difference, arena);
}

static void put_fingerprint(struct json_node node, const char *key, const struct outline *process)
{
	const struct outline *fact = process == NULL ? NULL : outline_child(process, "fingerprint");

	json_recipe_text_or_null(node, key, fact == NULL ? TEXT("") : fact->text);
}

static void put_pair(struct json_node list, const struct difference_pair *pair, struct arena *arena)
{
	struct json_node node = json_node_object(list, NULL);
	struct json_node subjects;

	put_thing_name(node, pair->old, pair->new);
	json_node_text(node, "change",
		       pair->first == NULL && !pair->is_renamed ? TEXT("none")
								: text_from(change_of(pair->old, pair->new)));
	json_node_flag(node, "is_same_run", pair->counts[OUTLINE_RUN] == 0);
	put_fingerprint(node, "old_fingerprint", pair->old);
	put_fingerprint(node, "new_fingerprint", pair->new);
	json_node_text(node, "words", difference_pair_remark(pair, arena));
	json_node_text(node, "total", difference_pair_total(pair, arena));
	subjects = json_node_list(node, "things");
	for (const struct difference_subject *subject = pair->first; subject != NULL; subject = subject->next)
		put_subject(subjects, subject, arena);
}

static void fill(struct json_node root, const void *subject)
{
	const struct emission *emission = subject;
	const struct comparison *comparison = emission->comparison;
	struct json_node list;

	json_node_text(root, "format", TEXT(DIFF_FORMAT));
	json_node_flag(root, "differs", comparison_differs(comparison));
	json_node_flag(root, "is_same_run", comparison->counts[OUTLINE_RUN] == 0);
	list = json_node_list(root, "processes");
	for (const struct difference_pair *pair = comparison->first; pair != NULL; pair = pair->next)
		put_pair(list, pair, emission->arena);
}

void emit_diff_json(const struct emission *emission, struct output *output)
{
	json_tree_write(output, emission->arena, fill, emission);
}
