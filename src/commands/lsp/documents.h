/* What an editor has open, and what the compiler makes of it.
 *
 * Ownership: each document has an arena for its text and one for its compilation; both are given back whole when the
 * text changes, so that memory follows what is open and not how long it has been open. */
#ifndef COMMANDS_LSP_DOCUMENTS_H
#define COMMANDS_LSP_DOCUMENTS_H

#include "commands/compile.h"
#include "commands/lsp/place.h"
#include "model/names.h"

/** When a step comes in a run, in milliseconds from its start. */
struct moment {
	uint32_t step; /* its name, and that of the process: interned numbers of the recipe */
	uint32_t process;
	int64_t pour_ms, start_ms, drain_ms, end_ms;
	struct moment *next;
};

struct document {
	bool is_open;
	bool is_stale; /* the compilation is older than a text in it */
	bool is_compiled;
	struct text uri; /* these live in text_arena */
	struct text name;
	struct text real;
	struct text content; /* as the editor has it, with a byte order mark if it has one */
	int64_t version;
	struct arena text_arena;
	struct arena arena;
	struct invocation invocation;
	struct compilation compilation;
	struct moment *moments;
};

struct documents {
	const struct invocation *invocation;
	struct document **items; /* closed ones are used again */
	size_t count;
	size_t capacity;
	struct open_texts open;
	bool is_listed; /* `open` tells of the texts as they are */
	struct arena open_arena;
};

/** No documents; they are compiled as `invocation` says. */
void documents_init(struct documents *documents, const struct invocation *invocation);

/** The open document of a URI, or null. */
struct document *documents_find(const struct documents *documents, struct text uri);

/** The open document of a file, or null. */
struct document *documents_of_file(const struct documents *documents, const struct source_file *file);

/** Opens a document, or opens it again. */
void document_open(struct documents *documents, struct text uri, struct text content, int64_t version);

/** Puts another text in the place of an old one. */
void document_change(struct documents *documents, struct document *document, struct text content, int64_t version);

/** Closes a document: what is stored counts again. */
void document_close(struct documents *documents, struct document *document);

/** Everything is to be compiled anew: files have changed behind the editor's back. */
void documents_doubt(struct documents *documents);

/** Compiles what is stale. True where anything was. */
bool documents_refresh(struct documents *documents);

/** Gives all memory back. */
void documents_drop(struct documents *documents);

/** The main file of a compiled document. */
const struct source_file *document_file(const struct document *document);

/** The tree of that file; null where it has none. */
const struct tree *document_tree(const struct document *document);

/** When a step comes in the process it is written in; null where that process was not computed. */
const struct moment *document_moment(const struct document *document, const struct name_use *step);

/** The URI of a file: its document's where it is open. In `arena`. */
struct text documents_uri_of(const struct documents *documents, struct arena *arena, const struct source_file *file);

/** The path that a URI names; empty where it names no file here. In `arena`. */
struct text uri_to_path(struct arena *arena, struct text uri);

#endif
