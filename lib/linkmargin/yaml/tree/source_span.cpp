#include "linkmargin/yaml/tree/source_span.hpp"

#include <algorithm>

namespace linkmargin::yaml {
namespace {

using Position = std::optional<std::size_t>;

/// One past the partner of the quotation mark at a position.
Position quoted_end(std::string_view text, std::size_t begin) {
  const char mark = text[begin];
  for (std::size_t i = begin + 1; i < text.size(); ++i) {
    if (mark == '"' && text[i] == '\\') {
      ++i;
    } else if (text[i] == mark) {
      const bool doubled = mark == '\'' && i + 1 < text.size() && text[i + 1] == mark;
      if (!doubled) return i + 1;
      ++i;
    }
  }
  return {};
}

/// The text that blanks with line ends among them fold to (YAML 1.2.2, section 6.5).
std::string_view folded(std::string_view blanks) {
  constexpr std::string_view feeds = "\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n";
  const auto count = static_cast<std::size_t>(std::ranges::count(blanks, '\n'));
  return count == 1 ? " " : feeds.substr(0, std::min(count - 1, feeds.size()));
}

/// Follows the known value through the text, so that no rule of where a plain scalar ends is needed.
Position plain_end(std::string_view text, std::size_t begin, std::string_view value) {
  std::size_t at = begin;
  while (!value.empty()) {
    if (at >= text.size()) return {};
    const std::size_t solid = std::min(text.find_first_not_of(" \t\n", at), text.size());
    const std::string_view blanks = text.substr(at, solid - at);
    const bool folds = blanks.find('\n') != std::string_view::npos;
    const std::string_view expected =
        folds ? folded(blanks) : text.substr(at, std::max<std::size_t>(solid - at, 1));
    if (!value.starts_with(expected)) return {};
    value.remove_prefix(expected.size());
    at = folds ? solid : at + expected.size();
  }
  return at;
}

/// The end of the last line of a block scalar: lines that are blank or indented deeper than its parent. Blank
/// lines at its end belong to it where its header keeps them.
std::size_t block_scalar_end(std::string_view text, std::size_t begin, std::size_t parent_indent) {
  std::size_t end = line_end(text, begin);
  const bool keeps =
      text.substr(begin, std::min<std::size_t>(3, end - begin)).find('+') != std::string_view::npos;
  for (std::size_t at = end; at < text.size();) {
    const std::size_t begin_of_line = at + 1;
    at = line_end(text, begin_of_line);
    const std::size_t solid = std::min(text.find_first_not_of(' ', begin_of_line), text.size());
    if (solid >= at) {
      if (keeps && at < text.size()) end = at;
    } else if (solid - begin_of_line > parent_indent) {
      end = at;
    } else {
      break;
    }
  }
  return end;
}

/// One past the bracket that closes a list or map whose last part ends at a position.
Position bracket_end(std::string_view text, std::size_t position, char bracket) {
  std::size_t at = skip_blank(text, position);
  if (at < text.size() && text[at] == ',') at = skip_blank(text, at + 1);
  return at < text.size() && text[at] == bracket ? Position(at + 1) : std::nullopt;
}

Position node_end(std::string_view text, const Node& node, std::size_t parent_indent);

Position collection_end(std::string_view text, const Node& node) {
  const bool is_map = node.kind == Node::Kind::mapping;
  const bool empty = is_map ? node.entries.empty() : node.items.empty();
  const bool bracketed = node.begin < text.size() && text[node.begin] == (is_map ? '{' : '[');
  if (node.flow != bracketed || (empty && !node.flow)) return {};
  Position last = node.begin + 1;
  if (!empty) last = is_map ? value_end(text, node.entries.back()) : item_end(text, node.items.back());
  if (!last || !node.flow) return last;
  return bracket_end(text, *last, is_map ? '}' : ']');
}

Position scalar_end(std::string_view text, const Node& node, std::size_t parent_indent) {
  if (node.begin >= text.size()) return {};
  const char first = text[node.begin];
  if (first == '"' || first == '\'') return quoted_end(text, node.begin);
  if (first == '|' || first == '>') return block_scalar_end(text, node.begin, parent_indent);
  return plain_end(text, node.begin, node.text);
}

Position node_end(std::string_view text, const Node& node, std::size_t parent_indent) {
  switch (node.kind) {
    case Node::Kind::scalar:
      return scalar_end(text, node, parent_indent);
    case Node::Kind::sequence:
    case Node::Kind::mapping:
      return collection_end(text, node);
    case Node::Kind::nothing:
      if (node.begin < text.size()) return node.begin + (text[node.begin] == '~' ? 1 : 4);
      return {};
    case Node::Kind::refused:
      return {};
  }
  return {};
}

}  // namespace

std::size_t column_of(std::string_view text, std::size_t position) {
  return position - line_begin(text, position);
}

std::size_t skip_blank(std::string_view text, std::size_t position) {
  while (position < text.size()) {
    if (text[position] == '#') {
      position = line_end(text, position);
    } else if (text[position] == ' ' || text[position] == '\t' || text[position] == '\n') {
      ++position;
    } else {
      break;
    }
  }
  return position;
}

std::size_t line_begin(std::string_view text, std::size_t position) {
  const std::size_t feed = position == 0 ? std::string_view::npos : text.rfind('\n', position - 1);
  return feed == std::string_view::npos ? 0 : feed + 1;
}

std::size_t line_end(std::string_view text, std::size_t position) {
  return std::min(text.find('\n', position), text.size());
}

Position key_end(std::string_view text, const Entry& entry) {
  Node key;
  key.kind = Node::Kind::scalar;
  key.begin = entry.begin;
  key.text = entry.key;
  return scalar_end(text, key, 0);
}

Position value_end(std::string_view text, const Entry& entry) {
  if (entry.value.begin != kNowhere) return node_end(text, entry.value, column_of(text, entry.begin));
  const Position key = key_end(text, entry);
  if (!key) return {};
  const std::size_t colon = skip_blank(text, *key);
  return colon < text.size() && text[colon] == ':' ? Position(colon + 1) : key;
}

Position item_end(std::string_view text, const Node& node) {
  const std::size_t begin = line_begin(text, node.begin);
  const std::size_t solid = std::min(text.find_first_not_of(' ', begin), text.size());
  return node_end(text, node, solid - begin);
}

}  // namespace linkmargin::yaml
