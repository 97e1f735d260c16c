#ifndef LINKMARGIN_C_LINKMARGIN_H
#define LINKMARGIN_C_LINKMARGIN_H

/** @file
   The library for other languages: plain C, texts in and out, no state but the handle. What the program's commands print
   with `--format json` is what these functions give, written by the same code (docs/commands has the keys).

   Texts are UTF-8. A text that is given is a pointer and its bytes; a text that is returned ends with a zero byte and is
   the caller's, to be given back by lm_free(). Every function that returns a text sets it, also where it fails: it then
   says what is wrong, {"error": "..."} or {"faults": [...]}. It is NULL only with LM_NO_MEMORY.

   A handle serves one thread at a time; different handles serve different threads. Lengths are in metres, x to the right
   and y up the sheet. An estimate never replaces the reading on site. */

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** A site that was opened: made by lm_open(), given back by lm_close(). */
typedef struct lm_site lm_site;

/** What a call comes to. The numbers stay as they are. */
typedef enum lm_status {
  LM_DONE = 0,
  LM_FAULTS = 1,     /**< of a site, an edit or readings: {"faults": [{"line", "column", "path", "code", "message", "hint"}]},
                        line and column from 1, 0 where they are not known */
  LM_REFUSED = 2,    /**< an unknown name, a number out of its range, a request that makes no sense: {"error"} */
  LM_TOO_SMALL = 3,  /**< the caller's buffer: {"error"} says how many cells are needed */
  LM_NO_MEMORY = 4,
  LM_DEFECT = 5      /**< of the library: {"error"}; the handle can only be closed */
} lm_status;

/** How the doors, gates and windows stand that can be opened. */
typedef enum lm_doors { LM_DOORS_ARMED = 0, LM_DOORS_OPEN = 1 } lm_doors;

/** Reads a site file, YAML or JSON. @param language  "en" or "de": of the sentences in answers.
   @param site    set with LM_DONE and LM_FAULTS, else NULL. A site with faults gives lm_text(), and lm_plan() as far as it
                  could be read; everything else gives its faults again.
   @param answer  {"site", "storeys": [{"name", "level_m", "height_m"}], "profiles": [...],
                  "areas": [{"name", "storey", "corners_m": [[x, y], ...]}], "faults": [...]} */
lm_status lm_open(const char* text, size_t bytes, const char* language, lm_site** site, char** answer);

/** Ends with a handle; NULL is taken. */
void lm_close(lm_site* site);
/** Gives back a text that a function returned; NULL is taken. */
void lm_free(char* text);

/** The site file with all edits in it; comments and all else stay as they were written.
   LM_FAULTS where an edit cannot be written into this file. */
lm_status lm_text(lm_site* site, char** text);

/** Changes the site: cases of docs/site-file/changes.md ("Cases for place and report"), YAML or JSON, done one after the other:
   {"cases": [{"name": "hub", "set": {"/hubs/hub/at_m": [1.2, 3.4]}}]}. All of it is done or nothing.
   @param answer  {"edits": [{"path", "value"}]} */
lm_status lm_edit(lm_site* site, const char* edits, size_t bytes, char** answer);

/** Readings taken on site, as CSV (docs/site-file/readings.md); predictions follow them until the next call. No bytes:
   none. They are dropped where a later edit takes away what they name. @param answer  {"readings": how many} */
lm_status lm_read(lm_site* site, const char* csv, size_t bytes, char** answer);

/** The plan as GeoJSON (RFC 7946) in the site's metres: rooms, walls, openings, radios, each with its storey as `level`. */
lm_status lm_plan(lm_site* site, char** answer);

/** Every device's link: `linkmargin check --format json`. */
lm_status lm_check(lm_site* site, lm_doors doors, char** answer);

/** What a picture of the plan shows of lm_check(), in a fraction of its time: for what is asked again at every move.
   @param answer  {"doors", "weak_below_percent", "links": [{"device", "hub", "via", "distance_m", "reading_percent",
                  "pass_probability", "reading_low_percent", "reading_high_percent", "outcome"}], "areas": [{"area", "hub",
                  "via", "share_percent", "wanted_percent", "weak"}]}, each as lm_check() has it */
lm_status lm_figures(lm_site* site, lm_doors doors, char** answer);

/** One device, why it reads what it reads and what to try: `linkmargin explain --format json`. */
lm_status lm_explain(lm_site* site, lm_doors doors, const char* device, char** answer);

/** Rows of the map of a storey: the reading in percent at the centre of each cell, rows from the lowest y, cells from the
   lowest x, as `linkmargin coverage` has it for the storey's most frequent device. Not a number where nothing is known.
   Rows are asked for a few at a time, so that no call takes long; no rows give the frame alone.
   @param step_m     size of a cell, 0.01 to 10
   @param first_row  and row_count: within the frame
   @param cells      room for `capacity` cells; row_count times the columns of the frame are written
   @param answer     the frame: {"storey", "profile", "height_m", "origin_m": [x, y], "step_m", "columns", "rows",
                     "weak_below_percent"} */
lm_status lm_map(lm_site* site, lm_doors doors, const char* storey, double step_m, int first_row, int row_count,
                 float* cells, size_t capacity, char** answer);

/** One step of the search for places of the hubs and repeaters that may be moved: the best choice among places `step_m`
   apart, `linkmargin place --format json` without what it is compared with. Call it with smaller and smaller steps, 2 to
   0.25, and stop where the answer is good enough.
   @param anywhere  not 0: into every room; 0: only where the site file lets them be moved (`may_move`)
   @param step_m    0.05 to 10 */
lm_status lm_place_step(lm_site* site, lm_doors doors, int anywhere, double step_m, char** answer);

/** Told what share of a call is done, above 0 to 1, in the thread that called. @param context  as it was given */
typedef void (*lm_progress)(void* context, double share);

/** The report for the customer as one HTML page, the bytes that `linkmargin report` writes: with the readings, and with other places
   of hubs, repeaters and weak devices to try. It takes seconds.
   @param date      when it was made, as it is to be shown: "2026-11-26"
   @param progress  may be NULL
   @param answer    the page, no JSON */
lm_status lm_report(lm_site* site, lm_doors doors, const char* date, lm_progress progress, void* context, char** answer);

#ifdef __cplusplus
}
#endif

#endif
