#include "linkmargin/yaml/writer/site_edit.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/text_decoding.hpp"
#include "linkmargin/yaml/site/calibration_yaml.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/parse_tree.hpp"
#include "linkmargin/yaml/tree/source_span.hpp"
#include "linkmargin/yaml/tree/values.hpp"
#include "linkmargin/yaml/writer/calibration_value.hpp"
#include "linkmargin/yaml/writer/field_values.hpp"
#include "linkmargin/yaml/writer/insert_entry.hpp"
#include "linkmargin/yaml/writer/pinned_places.hpp"

#include <algorithm>
#include <utility>

namespace linkmargin {
namespace yaml {
namespace {

using Splices = std::optional<std::vector<Splice>>;

constexpr std::string_view kCalibration = "calibration";

NewValue capacity_value(const Capacity& capacity) {
  if (capacity.total) return literal_value(std::to_string(*capacity.total));
  std::vector<NewEntry> entries;
  for (const auto& [device_class, slots] : capacity.by_class)
    entries.push_back({device_class, literal_value(std::to_string(slots))});
  return map_value(std::move(entries));
}

struct Writer {
  NewValue operator()(double number) const { return literal_value(shortest_text(number)); }
  NewValue operator()(const std::string& text) const { return name_value(text); }
  NewValue operator()(bool on) const { return NewValue(NewValue::Kind::flag, "", on); }
  NewValue operator()(Point2 at) const { return literal_value(point_text(at)); }
  NewValue operator()(const NewRadio& radio) const {
    NewValue value = noun_value(radio);
    if (radio.capacity) value.entries.push_back({"capacity", capacity_value(*radio.capacity)});
    return value;
  }
  NewValue operator()(const Calibration& learned) const { return calibration_value(learned); }
  NewValue operator()(const NewDevice& device) const { return noun_value(device); }
  NewValue operator()(const Obstacle&) const { return NewValue(); }
  NewValue operator()(Removal) const { return NewValue(); }
};

/// Where the names of a path lead in a tree, as far as they do.
struct Way {
  const Node* node;              ///< the last that was found
  const Node* parent = nullptr;  ///< of it
  std::size_t found = 0;         ///< how many names

  /// What the node stands under in its parent, or nullptr when that is a list.
  const Entry* entry() const {
    if (parent == nullptr) return nullptr;
    const auto at = std::ranges::find_if(parent->entries, [&](const Entry& e) { return &e.value == node; });
    return at == parent->entries.end() ? nullptr : &*at;
  }
};

Way follow(const Node& root, const std::vector<std::string>& names) {
  Way way{&root};
  for (; way.found < names.size(); ++way.found) {
    const Node* next = child(*way.node, names[way.found], way.found == 0 ? "" : names[way.found - 1]);
    if (next == nullptr) break;
    way.parent = std::exchange(way.node, next);
  }
  return way;
}

/// A comment on the line that begins a block scalar, with the blanks before it.
std::string_view header_comment(std::string_view text, std::size_t begin) {
  if (text[begin] != '|' && text[begin] != '>') return {};
  const std::string_view header = text.substr(begin, line_end(text, begin) - begin);
  const std::size_t blanks = std::min(header.find(' '), header.size());
  return header.find('#') == std::string_view::npos ? std::string_view() : header.substr(blanks);
}

/// Puts a text in the place of the scalar from `begin` to `end`.
Splices replaced(std::string_view text, std::size_t begin, std::optional<std::size_t> end,
                 std::string value) {
  if (!end) return {};
  value += header_comment(text, begin);
  return std::vector<Splice>{{begin, *end - begin, std::move(value)}};
}

/// Replaces a value that stands in the file, or leaves it when it says the same.
class Replacer {
 public:
  Replacer(std::string_view text, const Node& root, const Node& node, const Entry& entry)
      : text_(text), root_(root), node_(node), entry_(entry) {}

  Splices operator()(double number) const {
    if (node_.kind != Node::Kind::scalar) return {};
    const bool is_length = entry_.key.ends_with("_m");
    if ((is_length ? length_in(node_) : parse_number(node_.text)) == number) return std::vector<Splice>{};
    return put(with_unit(entry_.key, shortest_text(number)));
  }
  Splices operator()(const std::string& value) const {
    if (node_.kind != Node::Kind::scalar) return {};
    if (node_.text == value) return std::vector<Splice>{};
    return put(scalar_text(value, quotes_of(text_[node_.begin])));
  }
  Splices operator()(bool on) const {
    if (node_.kind != Node::Kind::scalar) return {};
    return is_switch(node_.text, on) ? std::vector<Splice>{} : put(switch_text(on, node_.text));
  }
  Splices operator()(Point2 at) const {
    if (node_.items.size() != 2) return {};
    std::vector<Splice> splices;
    for (std::size_t i = 0; i < 2; ++i) {
      const Node& item = node_.items[i];
      const double wanted_m = i == 0 ? at.x : at.y;
      const auto written_m = length_in(item);
      if (written_m && snapped(*written_m) == snapped(wanted_m)) continue;
      const auto part = replaced(text_, item.begin, item_end(text_, item),
                                 with_unit(entry_.key, coordinate_text(wanted_m)));
      if (!part) return {};
      splices.push_back(part->front());
    }
    return splices;
  }
  template <typename Whole>
  Splices operator()(const Whole&) const {
    return {};  // it is there already, or is not written
  }
  Splices operator()(const Calibration& learned) const {
    Faults ignored("");
    const Cursor top(root_);
    if (read_calibration(Cursor::at_key(top, entry_.key, node_), ignored) == learned)
      return std::vector<Splice>{};
    return replace_entry(text_, root_, entry_, {entry_.key, calibration_value(learned)});
  }

 private:
  std::string with_unit(const std::string& key, std::string figure) const {
    return with_length_unit({key, literal_value(std::move(figure))}, node_.length_unit).value.text;
  }

  Splices put(std::string value) const {
    return replaced(text_, node_.begin, value_end(text_, entry_), std::move(value));
  }

  std::string_view text_;
  const Node& root_;
  const Node& node_;
  const Entry& entry_;
};

/// The section that a missing one is put behind; none: the last.
std::string_view section_before(std::string_view section) {
  if (section == kCalibration || section == "devices") return {};
  return section == "repeaters" ? "hubs" : "radio";
}

/// The splices of one edit that edited_site() takes, or nothing when it cannot be written.
Splices splices_of(std::string_view text, const Node& root, const std::vector<std::string>& names,
                   const EditValue& value) {
  if (std::holds_alternative<Obstacle>(value)) return {};  // what-if runs alone make that edit
  const Way way = follow(root, names);
  const Entry* entry = way.entry();
  if (std::holds_alternative<Removal>(value)) {
    const bool stands = way.found == names.size() && entry != nullptr;
    return stands ? remove_entry(text, *way.parent, *entry) : Splices();
  }
  if (way.found == names.size()) {
    if (entry == nullptr || way.node->begin == kNowhere) return {};
    return std::visit(Replacer(text, root, *way.node, *entry), value);
  }
  NewEntry added = with_length_unit({names.back(), std::visit(Writer{}, value)}, root.length_unit);
  if (way.found > 0 && way.found + 1 == names.size()) {
    const bool unfilled = way.node->kind == Node::Kind::nothing && entry != nullptr;
    if (unfilled) return fill_section(text, *way.parent, *entry, added);
    return insert_entry(text, *way.node, "", added);
  }
  const bool learned = names.front() == kCalibration;
  const bool whole = std::holds_alternative<NewRadio>(value) || std::holds_alternative<NewDevice>(value) ||
                     names.front() == "reading" || learned;
  if (!whole) return {};  // part of an entry of the tables: the rest of it would be lost
  for (std::size_t i = names.size() - 1; i-- > way.found;) added = {names[i], map_value({std::move(added)})};
  if (learned) added.value.lines = std::max(kCalibrationLines - static_cast<int>(way.found), 0);
  return insert_entry(text, *way.node, way.found == 0 ? section_before(names.front()) : "", added);
}

/// @param before  the site before all edits
std::optional<std::string> with_edit(std::string_view bytes, const Edit& edit, const Site& before) {
  Faults ignored("");
  const auto text = decoded_text(bytes, ignored);
  const auto root = text ? parse_tree(*text, ignored) : std::nullopt;
  const auto names = pointer_names(edit.path);
  if (!root || !names) return {};
  Splices splices;
  if (is_place_in_words(*root, *names)) {
    const auto* at = std::get_if<Point2>(&edit.value);
    if (at != nullptr) splices = moved_in_words(*text, *root, before, *names, *at);
  } else {
    splices = splices_of(*text, *root, *names, edit.value);
  }
  if (!splices) return {};
  return spliced(bytes, std::move(*splices));
}

/// Writes as figures what a text that was edited still says otherwise in words, until it reads as wanted.
class Pinner {
 public:
  Pinner(const std::string& file_name, const Tables& tables) : file_name_(file_name), tables_(tables) {}

  /// @return whether the bytes read as wanted now
  bool pin(std::string& bytes, const Site& wanted) {
    for (;;) {
      const auto reads = parse_site(bytes, file_name_, tables_);
      if (!reads) {
        fault_ = reads.error().front().message;
        return false;
      }
      if (*reads == wanted) return true;
      Faults ignored("");
      const auto text = decoded_text(bytes, ignored);
      const auto root = text ? parse_tree(*text, ignored) : std::nullopt;
      auto next = root ? next_pin(*text, *root, *reads, wanted) : std::nullopt;
      const bool again = next && std::ranges::find(paths_, next->path) != paths_.end();
      if (!next || next->path.empty() || again) return false;
      bytes = spliced(bytes, std::move(next->splices));
      paths_.push_back(std::move(next->path));
    }
  }

  const std::vector<std::string>& paths() const { return paths_; }
  const std::string& fault() const { return fault_; }

 private:
  const std::string& file_name_;
  const Tables& tables_;
  std::vector<std::string> paths_;
  std::string fault_;
};

Diagnostics refusal(const std::string& file, std::string path, std::string message, std::string hint) {
  Diagnostic fault;
  fault.file = file;
  fault.path = std::move(path);
  fault.message = std::move(message);
  fault.hint = std::move(hint);
  fault.code = DiagnosticCode::unwritable_edit;
  return {std::move(fault)};
}

}  // namespace
}  // namespace yaml

Result<std::string> edited_text(std::string_view text, const std::string& file_name,
                                std::span<const Edit> edits, const Tables& tables,
                                std::vector<std::string>* as_figures) {
  const auto before = parse_site(text, file_name, tables);
  if (!before) return before.error();
  const auto wanted = edited_site(*before, edits);
  if (!wanted) return wanted.error();
  std::string bytes(text);
  const Edit* unwritten = nullptr;
  for (const Edit& edit : edits) {
    if (auto next = yaml::with_edit(bytes, edit, *before)) {
      bytes = std::move(*next);
    } else if (unwritten == nullptr) {
      unwritten = &edit;
    }
  }
  yaml::Pinner pinner(file_name, tables);
  if (pinner.pin(bytes, *wanted)) {
    if (as_figures != nullptr) *as_figures = pinner.paths();
    return bytes;
  }
  if (unwritten != nullptr) {
    return yaml::refusal(file_name, unwritten->path,
                         "the file cannot take the edit of \"" + unwritten->path + "\"",
                         "write the whole entry, in the plain form of the examples, and try again");
  }
  return yaml::refusal(file_name, "",
                       "the edits cannot be written into this file without changing more than they say",
                       pinner.fault().empty() ? "" : "it would read: " + pinner.fault());
}

Warning written_as_figures(std::vector<std::string> paths) {
  return {.code = WarningCode::places_written,
          .arguments = {{"paths", NameList{.names = std::move(paths), .in_sentence = true}}}};
}

}  // namespace linkmargin
