#include "linkmargin/yaml/tree/parse_tree.hpp"

#include "linkmargin/yaml/tree/document.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;
using namespace linkmargin::yaml;

namespace {

std::string tree_faults(const std::string& text) {
  Faults faults("f");
  const auto root = parse_document(text, faults);
  CHECK((root.has_value() || !faults.empty()));
  return fault_lines(std::move(faults).sorted());
}

std::string repeated(const std::string& piece, int count) {
  std::string text;
  for (int i = 0; i < count; ++i) text += piece;
  return text;
}

constexpr const char* kTooDeep = "lists and maps nest deeper than 64 levels\n";

}  // namespace

TEST_CASE("nesting of every style is refused at the 65th level, however deep it goes") {
  for (const int depth : {65, 500, 10000}) {
    CAPTURE(depth);
    CHECK(tree_faults(repeated("[", depth) + repeated("]", depth)) == std::string("f:1:65: ") + kTooDeep);
    CHECK(tree_faults(repeated("{a: ", depth) + repeated("}", depth)) == std::string("f:1:257: ") + kTooDeep);
    CHECK(tree_faults(repeated("[", depth)).find(kTooDeep) != std::string::npos);
    CHECK(tree_faults(repeated("{a: ", depth)).find(kTooDeep) != std::string::npos);
    CHECK(tree_faults(repeated("- ", depth)) == std::string("f:1:129: ") + kTooDeep);
    CHECK(tree_faults(repeated("? ", depth) + "x") == std::string("f:1:129: ") + kTooDeep);
    CHECK(tree_faults(repeated("[a: ", depth)).find(kTooDeep) != std::string::npos);
  }
  // So many that the parser does not see them all: told where it gave up.
  for (const char* piece : {"[", "{a: ", "- ", "? ", "[a: "}) {
    CAPTURE(piece);
    CHECK(tree_faults(repeated(piece, 400'000)).find(kTooDeep) != std::string::npos);
  }
  std::string block;
  for (int i = 0; i < 2000; ++i) block += std::string(static_cast<std::size_t>(i), ' ') + "a:\n";
  CHECK(tree_faults(block) == std::string("f:65:65: ") + kTooDeep);
}

TEST_CASE("64 levels are read") {
  CHECK(tree_faults(repeated("[", 64) + repeated("]", 64)) == "");
  CHECK(tree_faults(repeated("{a: ", 64) + repeated("}", 64)) == "");
}

TEST_CASE("the count of values is bounded") {
  CHECK(tree_faults(repeated("- 1\n", static_cast<int>(kMaxNodes) - 1)) == "");
  CHECK(tree_faults(repeated("- 1\n", static_cast<int>(kMaxNodes))) ==
        "f:300000:3: the file holds more than 300000 values\n");
}

TEST_CASE("what stands in one pair of brackets or on one line is bounded, and is told where it begins") {
  constexpr const char* said =
      "more than 200000 signs of YAML in one pair of brackets or one line (write long lists and maps on "
      "lines "
      "of their own, without brackets about them all)\n";
  constexpr int many = 250'000;
  CHECK(tree_faults("- 1\n- [" + repeated("1,", many) + "]") == std::string("f:2:3: ") + said);
  CHECK(tree_faults("[\n" + repeated("1,\n", many) + "]") == std::string("f:1:1: ") + said);
  CHECK(tree_faults("{b: [" + repeated("{c: 1},", 100'000) + "]}") == std::string("f:1:1: ") + said);
  CHECK(tree_faults("a: 1\nb:\n" + repeated("  - [1, 2, {c: 3}]\n", 20'000)) == "");
  CHECK(tree_faults("b: [" + repeated("1, ", 90'000) + "2]") == "");
}

TEST_CASE("one document is read, a second refused") {
  CHECK(tree_faults("---\na: 1\n...\n") == "");
  CHECK(tree_faults("%YAML 1.2\n---\na: 1\n") == "");
  CHECK(tree_faults("a: 1\n---\nb: 2\n") ==
        "f:2:1: a second document begins here; a file holds one (remove the '---')\n");
  CHECK(tree_faults("  a: 1\nb: 2\n") ==
        "f:2:1: this does not belong to what stands above it (check the indentation)\n");
}

TEST_CASE("nothing but comments, directives or marks is no document") {
  for (const char* text : {"# a\n", "---\n", "---\n...\n", "# a\n\n  # b"}) {
    CHECK(tree_faults(text) == "f:1:1: the file holds nothing but comments\n");
  }
}

TEST_CASE("anchors, aliases and tags are refused each where it stands, and the rest is read") {
  CHECK(tree_faults("a: &x 1\nb: *x\nc: !int 3\nd: !!str 4\n&k e: 5\n") ==
        "f:1:4: anchors are not taken in this file, found '&x' (write the value out in each place)\n"
        "f:2:4: aliases are not taken in this file, found '*x' (write the value out in each place)\n"
        "f:3:4: tags are not taken in this file, found '!int' (leave it out)\n"
        "f:4:4: tags are not taken in this file, found '!!str' (leave it out)\n"
        "f:5:1: anchors are not taken in this file, found '&k' (write the value out in each place)\n");
  CHECK(tree_faults("a: *x\n") ==
        "f:1:4: this is no YAML: the referenced anchor is not defined (text that begins with '*' needs "
        "quotation marks)\n");
  CHECK(tree_faults("!2") == "f:1:1: tags are not taken in this file, found '!2' (leave it out)\n");
  CHECK(tree_faults("a: '!x'\nb: \"&y\"\nc: x!y&z*\n") == "");
}

TEST_CASE("syntax faults give line, column, the reason and what may help") {
  CHECK(tree_faults("a: b: c\n") ==
        "f:1:5: this is no YAML: illegal map value (a ':' stands where no key can be: check the indentation, "
        "or put the "
        "text in quotation marks)\n");
  CHECK(tree_faults("a: [1, 2\nb: 3\n") ==
        "f:2:2: this is no YAML: end of sequence flow not found (a ',' between two items or the closing ']' "
        "is missing "
        "before this)\n");
  CHECK(tree_faults("a: {b: 1\nc: 3\n").find("f:2:2: this is no YAML: end of map flow not found") == 0);
  CHECK(tree_faults("a: 1\n]\n") ==
        "f:2:1: this is no YAML: illegal flow end (this bracket closes nothing)\n");
  CHECK(
      tree_faults("\xC3\xA9: @x\n") ==
      "f:1:4: this is no YAML: unknown token (text that begins with this character needs quotation marks)\n");
  CHECK(tree_faults("a: \"\\q\"\n") ==
        "f:1:7: this is no YAML: unknown escape character: q (in double quotation marks a backslash is "
        "written twice)\n");
  CHECK(tree_faults("a: \"x\nb: 3\n") == "f:1:4: this quotation mark has no partner\n");
  CHECK(tree_faults("a: 'it''s\nb: 3\n") == "f:1:4: this quotation mark has no partner\n");
  CHECK(tree_faults("a: 'it''s'\nb: \"\\\"\"\n") == "");
  CHECK(tree_faults("? [1]\n: 2\n") == "f:1:3: a key must be text\n");
  CHECK(tree_faults("~: 2\n") == "f:1:1: a key must be text\n");
}

TEST_CASE("a tab that indents is told as such, a tab elsewhere is taken") {
  constexpr const char* said = "a tab indents this line; YAML takes spaces only (put spaces in its place)\n";
  CHECK(tree_faults("a:\n\tb: 1\n") == std::string("f:2:1: ") + said);
  CHECK(tree_faults("a:\n  \tb: 1\n") == std::string("f:2:3: ") + said);
  CHECK(tree_faults("a:\n  b: 1\n\tc: 2\n") == std::string("f:3:1: ") + said);
  CHECK(tree_faults("a:\t1\t# one\nb: [1,\n\t2]\n") == "");
}
