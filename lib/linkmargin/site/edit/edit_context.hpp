#pragma once

#include "linkmargin/site/edit/edit_value.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

/// One edit on its way into a site. Not installed.
namespace linkmargin::edits {

struct EditContext {
  Site& site;
  const Edit& edit;
  const std::vector<std::string>& names;  ///< of its path, at least one
  Diagnostics& faults;

  const std::string& key() const { return names.back(); }
  void fault(DiagnosticCode code, std::string message, std::string hint = {}) const;

  /// "unknown hub 'hubb'" @param code  of a name, or of a word of a closed set
  void unknown(const std::string& what, const std::string& name, std::string hint,
               DiagnosticCode code = DiagnosticCode::unknown_name) const;
};

/// "the number 3"
std::string found_text(const EditValue& value);

/// The value as one kind, or nullptr and a fault that says what was expected.
template <typename Kind>
const Kind* expect(const EditContext& task, const std::string& what) {
  const auto* value = std::get_if<Kind>(&task.edit.value);
  if (value == nullptr)
    task.fault(DiagnosticCode::wrong_type,
               task.key() + ": expected " + what + ", found " + found_text(task.edit.value));
  return value;
}

/// Each adds its fault, under the key, where the value will not do.
bool check_range(const EditContext& task, const std::string& key, const Range& range, double value);
bool check_point(const EditContext& task, const std::string& key, Point2 at);
bool check_name(const EditContext& task, const std::string& key, const std::string& name);

/// The position of a name or word among the known ones, or nothing and a fault of the code.
std::optional<std::size_t> position_of(const EditContext& task, const std::vector<std::string>& known,
                                       DiagnosticCode code, const std::string& what, const std::string& name);

/// The same of a storey of the site.
std::optional<std::size_t> storey_position(const EditContext& task, const std::string& name);

}  // namespace linkmargin::edits
