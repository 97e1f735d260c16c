#include "linkmargin/exchange/dxf/dxf_drawing.hpp"

#include "linkmargin/exchange/drawing_unit.hpp"
#include "linkmargin/exchange/dxf/dxf_blocks.hpp"
#include "linkmargin/exchange/dxf/dxf_entity.hpp"

#include <algorithm>
#include <utility>

namespace linkmargin::exchange {
namespace dxf {
namespace {

/// Of $INSUNITS, beside those that a plan may be typed in: yard, kilometre, micrometre.
constexpr std::pair<int, double> kOtherUnits[] = {{10, 0.9144}, {7, 1000}, {13, 1e-6}};

std::optional<double> unit_of(int code) {
  for (const DrawingUnit& unit : kDrawingUnits) {
    if (unit.dxf_code == code) return unit.metres;
  }
  for (const auto& [other, metres] : kOtherUnits) {
    if (other == code) return metres;
  }
  return {};
}

class FileReader {
 public:
  FileReader(std::string_view text, Faults& faults) : groups_(text, faults), faults_(faults) {}

  void read() {
    advance();
    while (group_ && faults_.empty()) {
      if (is(0, "EOF")) {
        whole_ = true;
        return;
      }
      if (is(0, "SECTION")) {
        section();
      } else {
        advance();
      }
    }
    if (faults_.empty() && !whole_) {
      faults_.add({std::max(groups_.line(), 1), 1}, DiagnosticCode::syntax, "",
                  any_section_ ? "the file ends without EOF: it is not whole"
                               : "no drawing in DXF: it has no section");
    }
  }

  Contents contents;
  std::optional<double> unit_m;

 private:
  void advance() { group_ = groups_.next(); }
  bool is(int code, std::string_view value) const {
    return group_ && group_->code == code && group_->value == value;
  }

  void section() {
    any_section_ = true;
    advance();
    const std::string name(group_ && group_->code == 2 ? group_->value : std::string_view());
    const int begin = group_ ? group_->line : groups_.line();
    advance();
    while (group_ && !is(0, "ENDSEC") && !is(0, "EOF") && faults_.empty()) {
      if (name == "HEADER") {
        header_variable();
      } else if (name == "TABLES") {
        table_entry();
      } else if (name == "BLOCKS") {
        block();
      } else if (name == "ENTITIES") {
        entity(contents.model);
      } else {
        advance();
      }
    }
    if (!is(0, "ENDSEC") && faults_.empty()) {
      faults_.add({std::max(groups_.line(), 1), 1}, DiagnosticCode::syntax, "",
                  "the file ends within the section " + quoted(name) + ", which begins in line " +
                      std::to_string(begin) + ": it is not whole");
    }
  }

  void header_variable() {
    const std::string_view name = group_->code == 9 ? group_->value : std::string_view();
    advance();
    if (!group_) return;
    if (name == "$INSUNITS" && group_->code == 70) unit_m = unit_of(whole_of(*group_));
    if (name == "$DWGCODEPAGE" && group_->code == 3) {
      const std::string_view page = group_->value;
      contents.text.other_code_page = !page.ends_with("1252") && !page.ends_with("UTF-8") && page != "utf8";
    }
  }

  /// The groups of one thing, up to the next code 0.
  std::vector<Group> rest_of_entity() {
    std::vector<Group> groups;
    advance();
    while (group_ && group_->code != 0) {
      groups.push_back(*group_);
      advance();
    }
    return groups;
  }

  void table_entry() {
    const bool layer = is(0, "LAYER");
    std::string name;
    bool hidden = false;
    for (const Group& group : rest_of_entity()) {
      if (group.code == 2) name = group.value;
      if (group.code == 62) hidden = hidden || whole_of(group) < 0;
      if (group.code == 70) hidden = hidden || (whole_of(group) & 1) != 0;
    }
    if (layer && hidden) contents.hidden_layers.insert(name);
  }

  void block() {
    if (!is(0, "BLOCK")) {
      advance();
      return;
    }
    std::string name;
    Block made;
    for (const Group& group : rest_of_entity()) {
      if (group.code == 2) name = group.value;
      if (group.code == 10) made.base.x = number_of(group, faults_).value_or(0);
      if (group.code == 20) made.base.y = number_of(group, faults_).value_or(0);
    }
    while (group_ && !is(0, "ENDBLK") && !is(0, "ENDSEC") && !is(0, "EOF") && faults_.empty())
      entity(made.entities);
    if (is(0, "ENDBLK")) (void)rest_of_entity();
    contents.blocks[name] = std::move(made);
  }

  void entity(std::vector<Entity>& to) {
    if (group_->code != 0) {
      advance();
      return;
    }
    const std::string kind(group_->value);
    const int line = group_->line;
    const std::vector<Group> groups = rest_of_entity();
    if (!group_) return;  // the file ends within it
    Entity made = read_entity(kind, line, groups, contents.text, faults_);
    if (kind == "POLYLINE") polyline_corners(made);
    constexpr std::string_view kNotDrawn[] = {"SEQEND", "VERTEX", "ATTDEF", "VIEWPORT"};
    if (std::ranges::find(kNotDrawn, kind) == std::end(kNotDrawn)) to.push_back(std::move(made));
  }

  void polyline_corners(Entity& line) {
    PolyShape* const shape = std::get_if<PolyShape>(&line.shape);
    while (is(0, "VERTEX") && faults_.empty()) {
      const Vertex vertex = read_vertex(rest_of_entity(), faults_);
      if (shape != nullptr) shape->vertices.push_back(vertex);
    }
  }

  GroupReader groups_;
  Faults& faults_;
  std::optional<Group> group_;
  bool whole_ = false;
  bool any_section_ = false;
};

}  // namespace
}  // namespace dxf

Result<Drawing> parse_dxf(std::string_view bytes, const std::string& file_name) {
  Faults faults(file_name);
  if (bytes.size() > kMaxDrawingBytes) {
    faults.add({1, 1}, DiagnosticCode::too_large, "",
               "the file is larger than " + std::to_string(kMaxDrawingBytes >> 20U) + " MiB");
  } else if (bytes.substr(0, 64).find('\0') != std::string_view::npos) {
    faults.add({1, 1}, DiagnosticCode::syntax, "", "a binary file, not a DXF in text form",
               "save it as DXF in text form (ASCII)");
  } else {
    dxf::FileReader reader(bytes, faults);
    reader.read();
    if (faults.empty()) {
      Drawing drawing = dxf::expanded(reader.contents, faults);
      drawing.unit_m = reader.unit_m;
      drawing.undecoded_lines = std::move(reader.contents.text.undecoded_lines);
      if (faults.empty()) return drawing;
    }
  }
  return std::move(faults).sorted();
}

}  // namespace linkmargin::exchange
