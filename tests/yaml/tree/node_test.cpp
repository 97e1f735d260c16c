#include "linkmargin/yaml/tree/node.hpp"

#include "linkmargin/yaml/tree/document.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;
using namespace linkmargin::yaml;

namespace {

constexpr const char* kText = R"(storeys:
  - name: ground
    openings:
      - {name: street door, between: [outside, shop], at_m: [2.5, 0]}
      - {between: [shop, hall]}
      - name: 1
        width_m: 3
devices:
  hall/up~x: {at_m: [1, 2]}
  block:
    at_m: [3, 4]
nothing:
null and void:
number: null
tilde: ~
last:
)";

Node tree() {
  Faults faults("t");
  auto root = parse_document(kText, faults);
  REQUIRE(root);
  CHECK(faults.empty());
  return std::move(*root);
}

}  // namespace

TEST_CASE("a pointer leads to its value, by key, by name or by position") {
  const Node root = tree();
  CHECK(locate(root, "/storeys/ground/openings/street door/at_m") == Mark{4, 61});
  CHECK(locate(root, "/storeys/ground/openings/street door/at_m/1") == Mark{4, 67});
  CHECK(locate(root, "/storeys/0/openings/0/name") == Mark{4, 16});
  CHECK(locate(root, "/storeys/ground/openings/1/width_m") == Mark{7, 18});  // a name goes before a position
  CHECK(locate(root, "/storeys/ground/openings/2/width_m") == Mark{7, 18});
  CHECK(locate(root, "/devices/hall~1up~0x/at_m") == Mark{9, 21});
}

TEST_CASE("a value in block style, or none, is pointed to at its key") {
  const Node root = tree();
  CHECK(locate(root, "/devices") == Mark{8, 1});
  CHECK(locate(root, "/devices/block") == Mark{10, 3});
  CHECK(locate(root, "/nothing") == Mark{12, 1});
  CHECK(locate(root, "/null and void") == Mark{13, 1});
  CHECK(locate(root, "/number") == Mark{14, 9});
  CHECK(locate(root, "/tilde") == Mark{15, 8});
  CHECK(locate(root, "/last") == Mark{16, 1});
}

TEST_CASE("where a pointer leads nowhere, its longest existing prefix counts") {
  const Node root = tree();
  CHECK(locate(root, "") == Mark{1, 1});
  CHECK(locate(root, "/areas/drive") == Mark{1, 1});
  CHECK(locate(root, "/devices/block/at_m/7") == Mark{11, 11});
  CHECK(locate(root, "/devices/block/height_m/x") == Mark{10, 3});
  CHECK(locate(root, "/storeys/ground/openings/99999999999999999999999") == Mark{3, 5});
}

TEST_CASE("in a pair of rooms, position 0 is the room even when outside is written first") {
  const Node root = tree();
  CHECK(locate(root, "/storeys/ground/openings/street door/between/0") == Mark{4, 48});
  CHECK(locate(root, "/storeys/ground/openings/street door/between/1") == Mark{4, 39});
}

TEST_CASE("scalars know whether they were quoted, mappings keep their order") {
  Faults faults("t");
  const auto root = parse_document("b: \"1\"\na: '2'\nc: 3\n", faults);
  REQUIRE(root);
  REQUIRE(root->entries.size() == 3);
  CHECK(root->entries[0].key == "b");
  CHECK(root->entries[0].value.quoted);
  CHECK(root->entries[1].value.quoted);
  CHECK_FALSE(root->entries[2].value.quoted);
  CHECK(find(*root, "c")->text == "3");
  CHECK(find(*root, "d") == nullptr);
}
