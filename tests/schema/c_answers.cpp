// What each call of the C interface answers, for check_answers.py: "=== NAME" and the answer. Usage: SITE
// READINGS
#include "linkmargin/c/linkmargin.h"

#include <fstream>
#include <iostream>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

namespace {

std::string content_of(const char* file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

bool all_as_meant = true;

/// Prints an answer under the name of its kind, and gives it back. By reference: it is set while the
/// arguments are made.
void show(const char* name, lm_status found, lm_status meant, char*& answer) {
  std::cout << "=== " << name << "\n" << (answer == nullptr ? "null" : answer) << "\n";
  if (found != meant) {
    std::cerr << name << ": status " << found << "\n";
    all_as_meant = false;
  }
  lm_free(answer);
}

lm_status edit(lm_site* site, std::string_view edits, char** answer) {
  return lm_edit(site, edits.data(), edits.size(), answer);
}

}  // namespace

int main(int count, char** values) {
  if (count != 3) return 2;
  const std::string text = content_of(values[1]), readings = content_of(values[2]);
  constexpr std::string_view broken = "site: 3\n";
  char* answer = nullptr;
  lm_site* none = nullptr;
  show("c_open", lm_open(broken.data(), broken.size(), "en", &none, &answer), LM_FAULTS, answer);
  show("c_faults", lm_check(none, LM_DOORS_ARMED, &answer), LM_FAULTS, answer);
  lm_close(none);
  lm_site* site = nullptr;
  show("c_open", lm_open(text.data(), text.size(), "de", &site, &answer), LM_DONE, answer);
  show("plan", lm_plan(site, &answer), LM_DONE, answer);
  show("check", lm_check(site, LM_DOORS_ARMED, &answer), LM_DONE, answer);
  show("c_figures", lm_figures(site, LM_DOORS_ARMED, &answer), LM_DONE, answer);
  show("c_read", lm_read(site, readings.data(), readings.size(), &answer), LM_DONE, answer);
  show("check", lm_check(site, LM_DOORS_OPEN, &answer), LM_DONE, answer);
  show("explain", lm_explain(site, LM_DOORS_ARMED, "loft smoke", &answer), LM_DONE, answer);
  show("c_error", lm_explain(site, LM_DOORS_ARMED, "nothing", &answer), LM_REFUSED, answer);
  show("c_edit",
       edit(site,
            R"({"cases": [{"name": "all kinds", "set": {"/hubs/hub/at_m": [1.5, 1.5], "/hubs/hub/height_m": 2,
                "/storeys/ground/openings/street door/leaf": "steel door"}, "remove": ["/devices/till hold-up"],
                "add": {"/hubs/second": {"profile": "hub", "storey": "upper", "at_m": [2, 2], "height_m": 1, "capacity": 7},
                        "/devices/new": {"profile": "motion", "storey": "upper", "at_m": [3, 3], "height_m": 1, "slots": 2,
                                         "hub": "second", "mount_loss_db": 1},
                        "/storeys/ground/obstacles/shelf": {"rect_m": [3, 6, 1, 1], "height_m": 2, "material": "brick",
                                                            "thickness_m": 0.1}}}]})",
            &answer),
       LM_DONE, answer);
  show("c_faults", edit(site, R"({"cases": [{"name": "x", "set": {"/hubs/none/height_m": 2}}]})", &answer),
       LM_FAULTS, answer);
  std::vector<float> cells(100'000);
  show("c_map", lm_map(site, LM_DOORS_ARMED, "ground", 1, 0, 1, cells.data(), cells.size(), &answer), LM_DONE,
       answer);
  show("c_error", lm_map(site, LM_DOORS_ARMED, "ground", 1, 0, 1, cells.data(), 0, &answer), LM_TOO_SMALL,
       answer);
  show("place", lm_place_step(site, LM_DOORS_ARMED, 0, 2, &answer), LM_DONE, answer);
  lm_close(site);
  return all_as_meant ? 0 : 1;
}
