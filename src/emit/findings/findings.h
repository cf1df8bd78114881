/* Findings for other programs: JSON, one object a line (docs/schemas/findings.schema.json), and SARIF 2.1.0. The parts
 * of the JSON are open to whoever speaks of findings in JSON. */
#ifndef EMIT_FINDINGS_FINDINGS_H
#define EMIT_FINDINGS_FINDINGS_H

#include "emit/escape/json_tree.h"
#include "support/diagnostic.h"
#include "support/position.h"

/** The findings of one main file, sorted. */
struct findings {
	const struct source_set *sources;
	const struct report *report;
};

/** The findings of a run over several main files. */
struct findings_run {
	struct arena *arena; /* scratch */
	struct text version; /* of the program */
	struct text folder;  /* the absolute path that relative names start from; empty where it is not known */
	const struct findings *files;
	size_t file_count;
	size_t most;	  /* findings shown of each main file; 0: all */
	bool is_complete; /* every file could be read */
};

/** Adds where a span lies as `key`: file, offset, line and column, and where it ends; null where it is unset. */
void findings_json_place(struct json_node parent, const char *key, const struct source_set *sources, struct span span);

/** Adds everything known of a finding to `node`. */
void findings_json_finding(struct json_node node, const struct source_set *sources, const struct diagnostic *finding);

/** Writes findings, an object a line, those that an `allow` covers with its reason; `most` as in a run. */
void findings_json_write(struct output *output, struct arena *arena, const struct findings *findings, size_t most);

/** Writes a SARIF log of one run. */
void findings_sarif_write(struct output *output, const struct findings_run *run);

#endif
