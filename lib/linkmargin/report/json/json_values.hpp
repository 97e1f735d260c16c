#pragma once

#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/site/edit/edit.hpp"

#include <nlohmann/json.hpp>

#include <span>
#include <string>
#include <vector>

// Inside report/ and c/ only: nobody who uses the library sees the JSON library.
namespace linkmargin::json {

using Value = nlohmann::ordered_json;

/// 12 decimals; null when the number is not finite.
Value number(double value);

Value link(const Language& language, const Link& link);

/// [{"code", "text"}].
Value warnings(const Language& language, const std::vector<Warning>& warnings);

/// [{"path", "value"}]: a number, a text, a switch, [x, y], for what is new a map of its keys, null for what
/// is taken away; values as they are written into a site file.
Value edits(std::span<const Edit> edits);

/// The value of an edit, as edits() has it.
Value edit_value(const EditValue& value);

/// What a reading says, without its words.
Value reading(const ReadingAnswer& answer);

/// Two blanks a level, a line break at the end; texts as printable_lines() has them.
std::string text(Value value);

/// The same on one line, without its end.
std::string line(Value value);

}  // namespace linkmargin::json
