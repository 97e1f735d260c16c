#include "linkmargin/text/csv_text.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

/// Each field as [text@line:column], each record on a line, then the faults.
std::string parsed(const std::string& text, char separator = ',') {
  Faults faults("f");
  CsvText records(text, {separator, 0}, faults);
  std::string result;
  for (auto record = records.next(); record; record = records.next()) {
    CHECK(record->count == record->fields.size());
    for (const CsvField& field : record->fields) {
      result += '[' + field.text + '@' + std::to_string(field.mark.line) + ':' +
                std::to_string(field.mark.column) + (field.sound ? "]" : "!]");
    }
    result += '\n';
  }
  return result + fault_lines(std::move(faults).sorted());
}

}  // namespace

TEST_CASE("fields and records of RFC 4180, section 2, rules 1 to 7") {
  CHECK(parsed("aaa,bbb,ccc\nzzz,yyy,xxx\n") == "[aaa@1:1][bbb@1:5][ccc@1:9]\n[zzz@2:1][yyy@2:5][xxx@2:9]\n");
  CHECK(parsed("aaa,bbb\nzzz,yyy") == "[aaa@1:1][bbb@1:5]\n[zzz@2:1][yyy@2:5]\n");  // no line end at the end
  CHECK(parsed("\"aaa\",\"bbb\"\nzzz,yyy") == "[aaa@1:1][bbb@1:7]\n[zzz@2:1][yyy@2:5]\n");
  CHECK(parsed("\"aaa\",\"b\nbb\",\"c,c\"\nzzz") == "[aaa@1:1][b\nbb@1:7][c,c@2:5]\n[zzz@3:1]\n");
  CHECK(parsed("\"aaa\",\"b\"\"bb\"\"\",c") == "[aaa@1:1][b\"bb\"@1:7][c@1:17]\n");
}

TEST_CASE("empty fields have a place") {
  CHECK(parsed(",,\n") == "[@1:1][@1:2][@1:3]\n");
  CHECK(parsed("a,") == "[a@1:1][@1:3]\n");
  CHECK(parsed("\"\",\"\"\n\n\nb") == "[@1:1][@1:4]\n[@2:1]\n[@3:1]\n[b@4:1]\n");
  CHECK(parsed("") == "");
}

TEST_CASE("blanks round a field do not count, those inside quotation marks do") {
  CHECK(parsed(" a b ,\t\" c \" , ") == "[a b@1:2][ c @1:8][@1:15]\n");
  CHECK(parsed("a\t \t\"b\"", '\t') == "[a@1:1][@1:3][b@1:5]\n");
}

TEST_CASE("columns count characters, not bytes") {
  CHECK(parsed("\u00E4\u00F6,\u20AC,z") == "[\u00E4\u00F6@1:1][\u20AC@1:4][z@1:6]\n");
}

TEST_CASE("a fault of quotation marks is told where it stands, and reading goes on") {
  const std::string inside =
      ": a quotation mark stands inside a field that does not begin with one (put the whole field in "
      "quotation "
      "marks, and write each mark inside twice)\n";
  CHECK(parsed("a,2\" pipe,b\nc") == "[a@1:1][2\" pipe@1:3!][b@1:11]\n[c@2:1]\nf:1:4" + inside);
  CHECK(parsed("\"a\" b,c\nd") ==
        "[a@1:1!][c@1:7]\n[d@2:1]\n"
        "f:1:5: text after the closing quotation mark of a field (write a quotation mark "
        "inside a field twice)\n");
  CHECK(parsed("x,\"a\nb\"c,d") ==
        "[x@1:1][a\nb@1:3!][d@2:5]\n"
        "f:2:3: text after the closing quotation mark of a field (the field begins on line "
        "1: is its mark closed there?)\n");
  CHECK(parsed("x,\"a\nb,c\n") ==
        "[x@1:1][@1:3!]\n[b@2:1][c@2:3]\nf:1:3: this quotation mark has no partner\n");
  CHECK(parsed("\"") == "[@1:1!]\nf:1:1: this quotation mark has no partner\n");
  CHECK(parsed("\"\"\"") == "[\"@1:1!]\nf:1:1: this quotation mark has no partner\n");
}

TEST_CASE("fields past the limit are counted") {
  Faults faults("f");
  const std::string text(1000, ',');
  CsvText records(text, {}, faults);
  const auto record = records.next();
  REQUIRE(record);
  CHECK(record->count == 1001);
  CHECK(record->fields.size() == kMostCsvFields);
  CHECK(record->blank());
  CHECK_FALSE(records.next());
}

TEST_CASE("wide blanks do not count either") {
  CHECK(parsed("\u00A0a\u202Fb\u2009,\u3000\"c\"\u2007") == "[a\u202Fb@1:2][c@1:8]\n");
  CHECK(parsed("\u00A0,a") == "[@1:1][a@1:3]\n");
}

TEST_CASE("a field kept as text for spreadsheets") {
  CHECK(parsed("=\"0012\",b") == "[=\"0012\"@1:1][b@1:9]\n");
  CHECK(parsed("=\"a,b\nc\" ,d") == "[=\"a,b\nc\"@1:1][d@2:5]\n");
  CHECK(parsed("\"=\"\"0012\"\"\",b") == "[=\"0012\"@1:1][b@1:13]\n");
  CHECK(parsed("=1+1,=a") == "[=1+1@1:1][=a@1:6]\n");
  CHECK(parsed("=\"a") == "[@1:1!]\nf:1:1: this quotation mark has no partner\n");
}

TEST_CASE("a record tells how far it is filled") {
  const auto filled = [](const std::string& text) {
    Faults faults("f");
    return CsvText(text, {}, faults).next()->filled;
  };
  CHECK(filled("a,b,,") == 2);
  CHECK(filled(",,\"\",") == 0);
  CHECK(filled(",\"a\"b,,") == 2);
  CHECK(filled(std::string(1000, ',') + "a,") == 1001);
}

TEST_CASE("a record that is separated two ways is told where") {
  const auto told = [](const std::string& text, char separator) {
    Faults faults("f");
    const auto record = CsvText(text, {separator, 0}, faults).next();
    const bool two_ways = report_two_ways(*record, separator, "/3", "hint", faults);
    CHECK(two_ways == !faults.empty());
    return fault_lines(std::move(faults).sorted());
  };
  CHECK(told("\u00E4\u00F6;x,y", ',') ==
        "f:1:3: the fields are separated two ways: by commas, and here by a semicolon (hint)\n");
  CHECK(told("a;0,35;b\tc,d", ';') ==
        "f:1:9: the fields are separated two ways: by semicolons, and here by a tab (hint)\n");
  CHECK(told("a\t0,35\tb,c", '\t') ==
        "f:1:9: the fields are separated two ways: by tabs, and here by a comma (hint)\n");
  CHECK(told("\"a;b\",c", ',') == "");
}
