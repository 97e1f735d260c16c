#include "linkmargin/report/document/write_text.hpp"

#include "linkmargin/text/display_text.hpp"

#include <doctest/doctest.h>

#include <limits>

using namespace linkmargin;

namespace {

Table small_table() {
  return {{{.key = "mark"},
           {.key = "name", .title = "Name", .shrinks = true},
           {.key = "loss_db", .title = "Loss", .unit = "dB", .kind = ColumnKind::number, .decimals = 1},
           {.key = "reading_percent", .title = "Reading", .unit = "%", .kind = ColumnKind::bar}},
          {{{{"!"}, {"kiln"}, {30.25}, {25.0}}, Tone::weak}, {{{" "}, {"T\u00FCr", ": 3"}, {}, {100.0}}}}};
}

}  // namespace

TEST_CASE("numbers stand to the right, texts to the left, with a bar") {
  const std::string expected =
      "  Name    Loss  Reading\n"
      "            dB  %\n"
      "\u2500\u2500\u2500\u2500\u2500\u2500\u2500\u2500\u2500\u2500\u2500\u2500\u2500\u2500\u2500\u2500\u2500"
      "\u2500\u2500\u2500\u2500\u2500\u2500\u2500\u2500\u2500\n"
      "! kiln    30.2   25 \u2588\u2588\u2591\u2591\u2591\u2591\n"
      "  T\u00FCr: 3     -  100 \u2588\u2588\u2588\u2588\u2588\u2588\n";
  CHECK(write_text({{small_table()}}) == expected);
}

TEST_CASE("a table too wide is fitted by shortening the columns that may shrink, tails kept") {
  Table table = small_table();
  table.rows[0].cells[1] = {std::string(90, 'x'), ": 30 dB"};
  const std::string text = write_text({{table}}, {.width = 60});
  CHECK(text.find("x\u2026: 30 dB") != std::string::npos);
  for (const std::string& line : wrapped(text, 1000)) CHECK(display_width(line) <= 60);
}

TEST_CASE("a text that the width would cut gives way to its brief form") {
  Table table = small_table();
  table.rows[0].cells[1] = {std::string(90, 'x'), ": 30 dB", "brief"};
  const std::string cut = write_text({{table}}, {.width = 60});
  CHECK(cut.find("brief: 30 dB") != std::string::npos);
  CHECK(cut.find('x') == std::string::npos);
  const std::string whole = write_text({{table}}, {.width = 200});
  CHECK(whole.find("brief") == std::string::npos);
  CHECK(whole.find(std::string(90, 'x') + ": 30 dB") != std::string::npos);
  table.rows[0].cells[1].brief = std::string(80, 'y');  // too long as well: it is cut
  CHECK(write_text({{table}}, {.width = 60}).find("y\u2026: 30 dB") != std::string::npos);
}

TEST_CASE("columns are left out by their number, bars first, before a text is shortened under its least") {
  Table table{{{.title = "Name", .shrinks = true, .least = 19},
               {.title = "A", .drop = 2},
               {.title = "B", .drop = 1},
               {.title = "Reading", .kind = ColumnKind::bar}},
              {{{{std::string(20, 'n')}, {std::string(6, 'a')}, {std::string(6, 'b')}, {50.0}}}}};
  const auto has = [&](int width, const std::string& part) {
    return write_text({{table}}, {.width = width}).find(part) != std::string::npos;
  };
  CHECK(has(48, std::string(20, 'n')));  // 20 + 2 + 6 + 2 + 6 + 2 + 10
  CHECK(has(48, "\u2588"));
  CHECK(has(47, std::string(18, 'n') + "\u2026"));
  CHECK(has(47, "\u2588"));
  CHECK_FALSE(has(46, "\u2588"));
  CHECK(has(46, std::string(20, 'n')));  // 20 + 2 + 6 + 2 + 6 + 2 + 7
  CHECK(has(44, "bbbbbb"));
  CHECK_FALSE(has(43, "bbbbbb"));
  CHECK(has(43, "aaaaaa"));
  table.rows[0].cells[1] = {std::string(16, 'a')};
  CHECK_FALSE(has(43, "aaaaaa"));
  table.columns[0].least = 60;
  table.rows[0].cells[0] = {std::string(60, 'n')};
  CHECK(has(43, std::string(33, 'n') + "\u2026"));  // nothing else is left to give
}

TEST_CASE("colour only when asked for, and never instead of a mark") {
  CHECK(write_text({{small_table()}}).find('\x1b') == std::string::npos);
  const std::string coloured = write_text({{small_table()}}, {.colour = true});
  CHECK(coloured.find("\x1b[1;31m! kiln") != std::string::npos);
  CHECK(coloured.find("\x1b[0m\n") != std::string::npos);
}

TEST_CASE("paragraphs and bullets are wrapped, bullets indented") {
  const Document document{
      {Heading{"Areas"}, BulletList{{{.text = "one two three four five six seven eight nine", .mark = "!"}}},
       Paragraph{"ten eleven twelve thirteen fourteen fifteen sixteen"}}};
  CHECK(write_text(document, {.width = 40}) ==
        "Areas\n ! one two three four five six seven\n   eight nine\n\n"
        "ten eleven twelve thirteen fourteen\nfifteen sixteen\n");
}

TEST_CASE("no byte that could steer a terminal passes, no number that is none is printed") {
  Table table = small_table();
  table.rows[0].cells[1] = {std::string("a\x1b[2Jb")};
  table.rows[0].cells[2] = {std::numeric_limits<double>::quiet_NaN()};
  const std::string text = write_text({{Paragraph{"x\x07y"}, table}});
  CHECK(text.find('\x1b') == std::string::npos);
  CHECK(text.find('\x07') == std::string::npos);
  CHECK(text.find("nan") == std::string::npos);
}

TEST_CASE("bars go when it is their turn by the column's number") {
  Table table = {{{.title = "Name"},
                  {.title = "Dist.", .kind = ColumnKind::number, .drop = 1},
                  {.title = "Reading", .kind = ColumnKind::bar, .drop = 2},
                  {.title = "Range", .drop = 3}},
                 {{{{std::string(20, 'n')}, {12.0}, {29.0}, {std::string("0 to 51")}}}}};
  const auto has = [&](int width, const char* what) {
    return write_text({{table}}, {.width = width}).find(what) != std::string::npos;
  };
  CHECK(has(60, "Dist."));
  CHECK(has(60, "\u2588"));
  CHECK_FALSE(has(43, "Dist."));
  CHECK(has(43, "\u2588"));
  CHECK(has(43, "0 to 51"));
  CHECK_FALSE(has(40, "\u2588"));
  CHECK(has(40, "0 to 51"));
  CHECK(write_text({{table}}, {.width = 60, .ascii = true}).find("29 ##....") != std::string::npos);
}
