/* A site opened, its hub moved, everything checked anew, in plain C: the same functions serve any language that can call C. */

#include <linkmargin/c/linkmargin.h>

#include <stdio.h>
#include <string.h>

/* Whether a call failed; what it says is shown then, and given back in any case. */
static int failed(lm_status status, char** answer) {
  if (status != LM_DONE) fprintf(stderr, "%s\n", *answer != NULL ? *answer : "no memory");
  lm_free(*answer);
  *answer = NULL;
  return status != LM_DONE;
}

int main(void) {
  static const char site_text[] =
      "site: Invented flat\n"
      "radio: {frequency_mhz: 868.3, model: walls}\n"
      "reading: {zero_dbm: -105, full_dbm: -30, weak_below_percent: 40}\n"
      "storeys:\n"
      "  - name: ground\n"
      "    level_m: 0\n"
      "    height_m: 2.5\n"
      "    outer_wall: {material: brick, thickness_m: 0.24}\n"
      "    inner_wall: {material: stud wall}\n"
      "    rooms:\n"
      "      kitchen: {rect_m: [0, 0, 4, 4]}\n"
      "      hall: {rect_m: [4, 0, 2, 4]}  # narrow\n"
      "hubs:\n"
      "  hub: {profile: hub, storey: ground, at_m: [1, 1], height_m: 2}\n"
      "devices:\n"
      "  hall motion: {profile: motion, storey: ground, at_m: [5.8, 3.8], height_m: 2.2}\n";
  static const char moved[] = "{\"cases\": [{\"name\": \"hub\", \"set\": {\"/hubs/hub/at_m\": [3.5, 3.5]}}]}";
  lm_site* site = NULL;
  char* answer = NULL;
  if (failed(lm_open(site_text, strlen(site_text), "en", &site, &answer), &answer)) return 1;
  if (failed(lm_edit(site, moved, strlen(moved), &answer), &answer)) return 1;
  const lm_status checked = lm_check(site, LM_DOORS_ARMED, &answer);
  if (checked == LM_DONE) fputs(answer, stdout);
  if (failed(checked, &answer)) return 1;

  float cells[4096];
  if (failed(lm_map(site, LM_DOORS_ARMED, "ground", 0.5, 2, 3, cells, sizeof cells / sizeof *cells, &answer), &answer))
    return 1;
  const lm_status written = lm_text(site, &answer);
  const int kept = written == LM_DONE && strstr(answer, "at_m: [3.5, 3.5]") != NULL && strstr(answer, "# narrow") != NULL;
  if (failed(written, &answer)) return 1;
  lm_close(site);
  return kept ? 0 : 1;
}
