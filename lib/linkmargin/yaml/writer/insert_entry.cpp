#include "linkmargin/yaml/writer/insert_entry.hpp"

#include "linkmargin/yaml/tree/source_span.hpp"

#include <algorithm>
#include <iterator>

namespace linkmargin::yaml {
namespace {

using Splices = std::optional<std::vector<Splice>>;

bool begins_line(std::string_view text, std::size_t position) {
  const std::size_t begin = line_begin(text, position);
  return text.substr(begin, position - begin).find_first_not_of(' ') == std::string_view::npos;
}

/// Whether only blanks and a comment follow on the line.
bool ends_line(std::string_view text, std::size_t position) {
  return skip_blank(text, position) >= line_end(text, position);
}

bool is_block_map(const Node& node) {
  return node.kind == Node::Kind::mapping && !node.flow && !node.entries.empty();
}

/// Whether each key of a map in braces stands on a line of its own; the first may share that of the brace.
bool key_a_line(std::string_view text, const Node& map) {
  const std::size_t first = map.entries.size() > 1 ? 1 : 0;
  return std::all_of(map.entries.begin() + static_cast<std::ptrdiff_t>(first), map.entries.end(),
                     [&](const Entry& entry) { return begins_line(text, entry.begin); });
}

/// The lines from that of one position to that of another.
Splices whole_lines(std::string_view text, std::size_t first, std::size_t last) {
  const std::size_t begin = line_begin(text, first);
  const std::size_t end = std::min(line_end(text, last) + 1, text.size());
  return std::vector<Splice>{{begin, end - begin, ""}};
}

Splices into_empty_braces(std::string_view text, const Node& map, const NewEntry& entry) {
  const std::size_t inside = map.begin + 1;
  const std::size_t close = skip_blank(text, inside);
  const bool blank = text.substr(inside, close - inside).find_first_not_of(' ') == std::string_view::npos;
  return std::vector<Splice>{{inside, blank ? close - inside : 0, flow_text(entry, Quotes::as_needed)}};
}

Splices into_braces(std::string_view text, const Node& map, const Entry& before, const NewEntry& entry) {
  const auto end = value_end(text, before);
  if (!end) return {};
  const std::string written = flow_text(entry, quotes_of(text[before.begin]));
  if (!key_a_line(text, map)) return std::vector<Splice>{{*end, 0, ", " + written}};
  const std::size_t next = skip_blank(text, *end);
  const bool comma = next < text.size() && text[next] == ',';
  const std::size_t behind = comma ? next + 1 : *end;
  const std::string line =
      "\n" + std::string(column_of(text, before.begin), ' ') + written + (comma ? "," : "");
  std::vector<Splice> splices;
  if (!comma) splices.push_back({*end, 0, ","});
  splices.push_back({ends_line(text, behind) ? line_end(text, behind) : behind, 0, line});
  return splices;
}

/// How an entry that follows a sibling is spread: like that one, and like what the siblings of a section
/// hold.
LineStyle style_after(std::string_view text, const Node& map, const Entry& sibling, const NewEntry& entry) {
  LineStyle style{.levels = entry.value.lines};
  style.indent = column_of(text, map.entries.front().begin);
  if (entry.value.kind != NewValue::Kind::map || !is_block_map(sibling.value)) return style;
  style.step = column_of(text, sibling.value.entries.front().begin) - style.indent;
  const bool holds_maps = std::ranges::any_of(
      entry.value.entries, [](const NewEntry& inner) { return inner.value.kind == NewValue::Kind::map; });
  const int levels = holds_maps && is_block_map(sibling.value.entries.back().value) ? 2 : 1;
  style.levels = std::max(style.levels, levels);
  return style;
}

Splices into_lines(std::string_view text, const Node& map, const Entry& before, const NewEntry& entry) {
  const auto end = value_end(text, before);
  const std::size_t indent = column_of(text, map.entries.front().begin);
  const std::size_t line = line_begin(text, map.entries.front().begin);
  const bool plain_keys = text.substr(line, indent).find_first_not_of(" -") == std::string_view::npos;
  if (!end || !plain_keys) return {};
  const Quotes quotes = quotes_of(text[map.entries.front().begin]);
  return std::vector<Splice>{
      {line_end(text, *end), 0, block_text(entry, style_after(text, map, before, entry), quotes)}};
}

}  // namespace

Splices insert_entry(std::string_view text, const Node& map, std::string_view after, const NewEntry& entry) {
  if (map.kind != Node::Kind::mapping) return {};
  if (map.entries.empty()) return map.flow ? into_empty_braces(text, map, entry) : Splices();
  const auto found = std::ranges::find(map.entries, after, &Entry::key);
  const Entry& before = found == map.entries.end() ? map.entries.back() : *found;
  return map.flow ? into_braces(text, map, before, entry) : into_lines(text, map, before, entry);
}

Splices fill_section(std::string_view text, const Node& map, const Entry& section, const NewEntry& entry) {
  const auto end = value_end(text, section);
  const bool has_colon = section.value.begin != kNowhere || (end && text[*end - 1] == ':');
  if (!end || !has_colon) return {};
  const Quotes quotes = quotes_of(text[map.entries.front().begin]);
  const std::string braces = "{" + flow_text(entry, quotes) + "}";
  const std::size_t begin = section.value.begin;
  if (begin != kNowhere) return std::vector<Splice>{{begin, *end - begin, braces}};
  if (map.flow) return std::vector<Splice>{{*end, 0, " " + braces}};
  const auto sibling =
      std::ranges::find_if(map.entries, [](const Entry& e) { return is_block_map(e.value); });
  const std::size_t indent = column_of(text, map.entries.front().begin);
  LineStyle style{indent + 2};
  if (sibling != map.entries.end()) style.indent = column_of(text, sibling->value.entries.front().begin);
  return std::vector<Splice>{{line_end(text, *end), 0, block_text(entry, style, quotes)}};
}

Splices replace_entry(std::string_view text, const Node& map, const Entry& old, const NewEntry& entry) {
  const auto end = value_end(text, old);
  const auto key = key_end(text, old);
  if (!end || !key || old.value.begin == kNowhere) return {};
  const Quotes quotes = quotes_of(text[old.begin]);
  if (!is_block_map(old.value)) {
    const std::size_t begin = old.value.begin;
    return std::vector<Splice>{{begin, *end - begin, flow_text(entry.value, quotes)}};
  }
  const std::size_t indent = column_of(text, map.entries.front().begin);
  const std::size_t inner = column_of(text, old.value.entries.front().begin);
  std::string lines;
  for (const NewEntry& part : entry.value.entries) {
    lines += block_text(part, {inner, inner - indent, std::max(entry.value.lines - 1, 0)}, quotes);
  }
  const std::size_t begin = line_end(text, *key);
  return std::vector<Splice>{{begin, line_end(text, *end) - begin, std::move(lines)}};
}

Splices remove_entry(std::string_view text, const Node& map, const Entry& old) {
  const auto end = value_end(text, old);
  if (!end || map.entries.size() < 2) return {};
  if (!map.flow) return begins_line(text, old.begin) ? whole_lines(text, old.begin, *end) : Splices();
  const std::size_t next = skip_blank(text, *end);
  if (next < text.size() && text[next] == ',') {
    if (begins_line(text, old.begin) && ends_line(text, next + 1)) return whole_lines(text, old.begin, next);
    const std::size_t kept = std::min(text.find_first_not_of(' ', next + 1), text.size());
    return std::vector<Splice>{{old.begin, kept - old.begin, ""}};
  }
  const auto at = std::ranges::find(map.entries, &old, [](const Entry& entry) { return &entry; });
  if (at == map.entries.begin()) return {};
  const auto before = value_end(text, *std::prev(at));
  if (!before) return {};
  if (text.substr(*before, old.begin - *before).find('#') != std::string_view::npos) return {};
  return std::vector<Splice>{{*before, *end - *before, ""}};
}

}  // namespace linkmargin::yaml
