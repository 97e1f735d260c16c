#pragma once

#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/edit/edit_context.hpp"
#include "linkmargin/site/schema/field.hpp"
#include "linkmargin/site/schema/renamed_keys.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <variant>
#include <vector>

/// Sets a key of a noun by its row of the table. Not installed.
namespace linkmargin::edits {

/// Checks an edit's value against the kind of a key and sets it.
template <typename Noun>
struct Setter {
  const EditContext& task;
  Noun& noun;

  void operator()(const schema::Number<Noun>& kind) const {
    const auto* value = expect<double>(task, kind.whole ? "a whole number" : "a number");
    if (value == nullptr || !check_range(task, task.key(), *kind.range, *value)) return;
    if (kind.whole && std::trunc(*value) != *value) {
      task.fault(DiagnosticCode::wrong_type,
                 task.key() + ": expected a whole number, found " + shortest_text(*value));
    } else {
      kind.set(noun, *value);
    }
  }
  void operator()(const schema::Name<Noun>& kind) const {
    const auto* name = expect<std::string>(task, "a name");
    if (name != nullptr && check_name(task, task.key(), *name)) kind.set(noun, *name);
  }
  void operator()(const schema::Switch<Noun>& kind) const {
    if (const auto* on = expect<bool>(task, "on or off")) kind.set(noun, *on);
  }
  void operator()(const schema::Point<Noun>& kind) const {
    const auto* at = expect<Point2>(task, "a point [x, y]");
    if (at != nullptr && check_point(task, task.key(), *at)) kind.set(noun, snapped(*at));
  }
  void operator()(const schema::StoreyName<Noun>& kind) const {
    const auto* name = expect<std::string>(task, "the name of a storey");
    if (name == nullptr) return;
    if (const auto storey = storey_position(task, *name)) kind.set(noun, *storey);
  }
  void operator()(const schema::Word<Noun>& kind) const {
    const auto* word = expect<std::string>(task, "a word");
    if (word == nullptr) return;
    const auto position = position_of(task, kind.words(), DiagnosticCode::unknown_word, task.key(), *word);
    if (position) kind.set(noun, *position);
  }
  void operator()(const auto&) const {}  // of kinds that is_editable() leaves out
};

template <typename Noun>
std::vector<std::string> key_names() {
  std::vector<std::string> names;
  for (const auto& field : schema::fields<Noun>()) {
    if (schema::is_editable(field)) names.emplace_back(field.key);
  }
  return names;
}

template <typename Noun>
void set_key(const EditContext& task, Noun& noun) {
  const auto rows = schema::fields<Noun>();
  const auto field = std::ranges::find(rows, task.key(), &schema::Field<Noun>::key);
  if (field == rows.end() || !schema::is_editable(*field)) {
    const auto known = key_names<Noun>();
    const std::string renamed = renamed_hint(task.key());
    const std::string near = renamed.empty() ? nearest_hint(task.key(), known) : renamed;
    task.fault(DiagnosticCode::unreachable, "an edit cannot set " + checks::quoted(task.key()),
               near.empty() ? "it can set " + joined(known) : near);
    return;
  }
  const std::string refusal = field->refuse == nullptr ? std::string() : field->refuse(noun);
  if (!refusal.empty()) return task.fault(DiagnosticCode::conflicting_keys, task.key() + ": " + refusal);
  std::visit(Setter<Noun>{task, noun}, field->kind);
}

/// Whether all numbers, names and places that a whole noun states are in their ranges; a fault for each that
/// is not.
template <typename Noun>
bool check_stated(const EditContext& task, const Noun& noun) {
  bool sound = true;
  for (const auto& field : schema::fields<Noun>()) {
    const std::string key(field.key);
    if (const auto* number = std::get_if<schema::Number<Noun>>(&field.kind)) {
      const auto value = number->get(noun);
      if (value && !check_range(task, key, *number->range, *value)) sound = false;
    } else if (const auto* name = std::get_if<schema::Name<Noun>>(&field.kind)) {
      const std::string text = name->get(noun);
      const bool given = !text.empty() || field.presence == schema::Presence::required;
      if (given && !check_name(task, key, text)) sound = false;
    } else if (const auto* point = std::get_if<schema::Point<Noun>>(&field.kind)) {
      if (!check_point(task, key, point->get(noun))) sound = false;
    }
  }
  return sound;
}

}  // namespace linkmargin::edits
