#include "linkmargin/yaml/writer/new_entry.hpp"

#include <utility>

namespace linkmargin::yaml {

NewValue::NewValue(Kind of, std::string written, bool switched_on)
    : kind(of), text(std::move(written)), on(switched_on) {}

NewValue literal_value(std::string text) {
  return NewValue(NewValue::Kind::literal, std::move(text));
}

NewValue name_value(std::string text) {
  return NewValue(NewValue::Kind::name, std::move(text));
}

NewValue map_value(std::vector<NewEntry> entries) {
  NewValue value{NewValue::Kind::map};
  value.entries = std::move(entries);
  return value;
}

namespace {

/// "[1.5m, 2m]" of "[1.5, 2]".
std::string with_metres(std::string_view figures) {
  constexpr std::string_view of_figure = "-.0123456789";
  std::string text;
  for (std::size_t i = 0; i < figures.size(); ++i) {
    text += figures[i];
    const bool in_figure = of_figure.find(figures[i]) != std::string_view::npos;
    const bool ends = i + 1 == figures.size() || of_figure.find(figures[i + 1]) == std::string_view::npos;
    if (in_figure && ends) text += 'm';
  }
  return text;
}

}  // namespace

NewEntry with_length_unit(NewEntry entry, LengthUnit unit) {
  if (unit == LengthUnit::metre) return entry;
  const bool is_length = entry.key.ends_with("_m") || entry.key == "at";
  if (is_length && entry.value.kind == NewValue::Kind::literal)
    entry.value.text = with_metres(entry.value.text);
  for (NewEntry& inner : entry.value.entries) inner = with_length_unit(std::move(inner), unit);
  for (NewValue& item : entry.value.items) {
    for (NewEntry& inner : item.entries) inner = with_length_unit(std::move(inner), unit);
  }
  return entry;
}

std::string flow_text(const NewValue& value, Quotes quotes) {
  switch (value.kind) {
    case NewValue::Kind::literal:
      return value.text;
    case NewValue::Kind::name:
      return scalar_text(value.text, quotes);
    case NewValue::Kind::flag:
      return switch_text(value.on, quotes == Quotes::as_needed ? "on" : "true");
    case NewValue::Kind::map:
    case NewValue::Kind::list:
      break;
  }
  std::string text;
  for (const NewEntry& entry : value.entries) text += (text.empty() ? "" : ", ") + flow_text(entry, quotes);
  for (const NewValue& item : value.items) text += (text.empty() ? "" : ", ") + flow_text(item, quotes);
  return value.kind == NewValue::Kind::map ? "{" + text + "}" : "[" + text + "]";
}

std::string flow_text(const NewEntry& entry, Quotes quotes) {
  return scalar_text(entry.key, quotes) + ": " + flow_text(entry.value, quotes);
}

std::string block_text(const NewEntry& entry, const LineStyle& style, Quotes quotes) {
  const std::string start = "\n" + std::string(style.indent, ' ');
  const NewValue& value = entry.value;
  const bool spreads = !value.entries.empty() || !value.items.empty();
  if (!spreads || style.levels == 0) return start + flow_text(entry, quotes);
  std::string text = start + scalar_text(entry.key, quotes) + ":";
  const LineStyle within{style.indent + style.step, style.step, style.levels - 1};
  for (const NewEntry& inner : value.entries) text += block_text(inner, within, quotes);
  for (const NewValue& item : value.items)
    text += "\n" + std::string(within.indent, ' ') + "- " + flow_text(item, quotes);
  return text;
}

}  // namespace linkmargin::yaml
