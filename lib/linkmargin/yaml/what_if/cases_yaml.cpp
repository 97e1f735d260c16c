#include "linkmargin/yaml/what_if/cases_yaml.hpp"

#include "linkmargin/yaml/tree/document.hpp"
#include "linkmargin/yaml/what_if/case_yaml.hpp"

#include <utility>

namespace linkmargin {

Result<std::vector<NamedEdits>> parse_cases(std::string_view text, const std::string& file_name,
                                            const Site& site) {
  Faults faults(file_name);
  const auto root = yaml::parse_document(text, faults);
  if (!root) return std::move(faults).sorted();
  const yaml::Cursor top(*root);
  yaml::ObjectReader reader(top, "", faults);
  (void)reader.find("site");
  std::vector<NamedEdits> cases;
  if (const auto list = reader.need("cases")) {
    yaml::for_each_item(*list, kCases, faults, [&](const yaml::Cursor& item) {
      WhatIfCase made = yaml::read_case(item, site, faults);
      if (made.doors_open)
        yaml::add_fault(item, DiagnosticCode::conflicting_keys, "doors stand as the command says",
                        "leave doors out", faults);
      cases.push_back({std::move(made.name), std::move(made.edits)});
    });
    yaml::report_repeated_cases(*list, faults);
  }
  reader.finish();
  if (faults.empty()) return cases;
  return std::move(faults).sorted();
}

}  // namespace linkmargin
