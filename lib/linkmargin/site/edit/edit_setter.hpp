#pragma once

#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/site/schema/renamed_keys.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/validation/checks.hpp"
#include "linkmargin/site/edit/edit_keys.hpp"
#include "linkmargin/site/edit/edit_context.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <variant>
#include <vector>

/// Sets a key of a noun by the table of its keys. Not installed.
namespace linkmargin::edits {

/// Checks an edit's value against a key's rule and sets it.
template <typename Noun>
struct Setter {
  const EditContext& task;
  Noun& noun;

  void operator()(const NumberKey<Noun>& rule) const {
    const auto* value = expect<double>(task, rule.whole ? "a whole number" : "a number");
    if (value == nullptr || !check_range(task, task.key(), *rule.range, *value)) return;
    if (rule.whole && std::trunc(*value) != *value) {
      task.fault(task.key() + ": expected a whole number, found " + shortest_text(*value));
    } else {
      rule.set(noun, *value);
    }
  }
  void operator()(const NameKey<Noun>& rule) const {
    const auto* name = expect<std::string>(task, "a name");
    if (name != nullptr && check_name(task, task.key(), *name)) rule.set(noun, *name);
  }
  void operator()(const FlagKey<Noun>& rule) const {
    if (const auto* flag = expect<bool>(task, "on or off")) rule.set(noun, *flag);
  }
  void operator()(const PointKey<Noun>& rule) const {
    const auto* at = expect<Point2>(task, "a point [x, y]");
    if (at != nullptr && check_point(task, task.key(), *at)) rule.set(noun, snapped(*at));
  }
  void operator()(const StoreyKey<Noun>& rule) const {
    const auto* name = expect<std::string>(task, "the name of a storey");
    if (name == nullptr) return;
    const auto storey = position_of(task, checks::names_of(task.site.storeys), "storey", *name);
    if (storey) rule.set(noun, *storey);
  }
  void operator()(const WordKey<Noun>& rule) const {
    const auto* word = expect<std::string>(task, "a word");
    if (word == nullptr) return;
    if (const auto position = position_of(task, rule.words(), task.key(), *word)) rule.set(noun, *position);
  }
};

template <typename Noun>
std::vector<std::string> key_names() {
  std::vector<std::string> names;
  for (const EditKey<Noun>& key : edit_keys<Noun>()) names.emplace_back(key.key);
  return names;
}

template <typename Noun>
void set_key(const EditContext& task, Noun& noun) {
  const auto keys = edit_keys<Noun>();
  const auto key = std::ranges::find(keys, task.key(), &EditKey<Noun>::key);
  if (key == keys.end()) {
    const auto known = key_names<Noun>();
    const std::string_view renamed = renamed_key(task.key());
    const std::string near = renamed.empty() ? nearest_hint(task.key(), known) : "it is called " + checks::quoted(renamed) + " now";
    task.fault("an edit cannot set " + checks::quoted(task.key()),
               near.empty() ? "it can set " + joined(known) : near);
    return;
  }
  const std::string refusal = key->refuse == nullptr ? std::string() : key->refuse(noun);
  if (!refusal.empty()) return task.fault(task.key() + ": " + refusal);
  std::visit(Setter<Noun>{task, noun}, key->rule);
}

}  // namespace linkmargin::edits
