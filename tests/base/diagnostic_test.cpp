#include "linkmargin/base/diagnostic.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string_view>

using namespace linkmargin;

TEST_CASE("a diagnostic as text leaves out what is unknown") {
  Diagnostic fault{"pottery.yaml", 12, 9, "/storeys/0", "unknown key 'hight_m'", "did you mean 'height_m'?"};
  CHECK(to_text(fault) == "pottery.yaml:12:9: unknown key 'hight_m' (did you mean 'height_m'?)");
  fault.hint.clear();
  CHECK(to_text(fault) == "pottery.yaml:12:9: unknown key 'hight_m'");
  fault.line = 0;
  CHECK(to_text(fault) == "pottery.yaml: unknown key 'hight_m'");
  fault.file.clear();
  CHECK(to_text(fault) == "unknown key 'hight_m'");
}

TEST_CASE("names in a JSON Pointer are escaped as in RFC 6901, section 3") {
  CHECK(pointer_token("street door") == "street door");
  CHECK(pointer_token("a/b") == "a~1b");
  CHECK(pointer_token("m~n") == "m~0n");
  CHECK(pointer_token("~1") == "~01");
  CHECK(pointer_token("").empty());
}

TEST_CASE("the names of a pointer are those that its tokens were made of") {
  using Names = std::vector<std::string>;
  CHECK(pointer_names("") == Names{});
  CHECK(pointer_names("/") == Names{""});
  CHECK(pointer_names("/a/b c/") == Names{"a", "b c", ""});
  CHECK(pointer_names("/~01/~1~0") == Names{"~1", "/~"});
  CHECK(pointer_names("/" + pointer_token("a/b~c~1") + "/x") == Names{"a/b~c~1", "x"});
  for (const char* wrong : {"a", "a/b", " /a", "/~", "/a~/b", "/~2"}) {
    CAPTURE(wrong);
    CHECK_FALSE(pointer_names(wrong).has_value());
  }
}

TEST_CASE("every code has a word of its own") {
  std::set<std::string_view> words;
  const int last = static_cast<int>(DiagnosticCode::not_listed);
  for (int i = 0; i <= last; ++i) words.insert(code_word(static_cast<DiagnosticCode>(i)));
  CHECK(words.size() == static_cast<std::size_t>(last) + 1);
  CHECK(code_word(DiagnosticCode::unknown_key) == "unknown_key");
}
