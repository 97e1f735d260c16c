#include "linkmargin/report/page/index_page.hpp"

#include "linkmargin/text/file_limits.hpp"
#include "linkmargin/yaml/site/language_yaml.hpp"

#include "fixtures/link_table_fixture.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

/// With one weak device, whose chance is 28 in 100, and 9 of 8 slots.
IndexedSite written(const std::string& file, const std::string& page) {
  return {.file = file, .page = page, .table = fixture::table()};
}

}  // namespace

TEST_CASE("pages are named by their site files, and no two alike") {
  using Names = std::vector<std::string>;
  const auto named = [](const Names& files) { return page_names(files); };
  CHECK(named({"a/yard.yaml", "shop.yml", "plain"}) == Names{"yard.html", "shop.html", "plain.html"});
  CHECK(named({"a/yard.yaml", "b/yard.yaml", "yard.yml"}) ==
        Names{"yard.html", "yard-2.html", "yard-3.html"});
  CHECK(named({"yard.yaml", "YARD.yaml"}) == Names{"yard.html", "YARD-2.html"});
  CHECK(named({"yard-2.yaml", "yard.yaml", "x/yard.yaml"}) ==
        Names{"yard-2.html", "yard.html", "yard-3.html"});
  CHECK(named({"index.yaml", "Index.yaml"}) == Names{"index-2.html", "Index-3.html"});
  CHECK(named({"two.parts.yaml", ".yaml"}) == Names{"two.parts.html", ".yaml.html"});
}

TEST_CASE("the index has a row for each site in the order given, by the words of check") {
  const std::vector<IndexedSite> sites{written("b/yard.yaml", "yard.html"),
                                       {.file = "wrong.yaml", .page = "wrong.html", .faults = 3},
                                       written("a.yaml", "a.html")};
  const std::string page =
      index_html(sites, built_in_language("en"), {.date = "2026-01-02", .version = "9.9"});
  CHECK(page.starts_with("<!DOCTYPE html>\n<html lang=\"en\">"));
  CHECK(page.ends_with("</html>\n"));
  CHECK(has(page, "2 sites checked. Sites with something weak: 2."));
  CHECK(has(page, "1 site has faults and no page."));
  CHECK(
      has(page, "<a href=\"yard.html\"><bdi>Test yard</bdi></a> <span class=\"file\"><bdi>yard.yaml</bdi>"));
  CHECK(has(page, "<td class=\"figure\"><bdi>kiln valve</bdi></td>"));
  CHECK(has(page, ">28</td>"));
  CHECK(has(page, "9 of 8</td>"));
  CHECK(has(page, "Not written: 3 faults."));
  CHECK_FALSE(has(page, "href=\"wrong.html\""));
  CHECK(page.find("yard.yaml") < page.find("wrong.yaml"));
  CHECK(page.find("wrong.yaml") < page.find("a.yaml</bdi>"));
  CHECK(has(page, "2026-01-02"));
  CHECK(has(page, "linkmargin 9.9"));
  for (const char* outside : {"http:", "https:", "src=", "@import", "<link", "<script"})
    CHECK_FALSE(has(page, outside));
  const std::string german = index_html(sites, built_in_language("de"));
  CHECK(has(german, "<html lang=\"de\">"));
  CHECK(has(german, "Nicht geschrieben: 3 Fehler."));
  CHECK_FALSE(has(german, "Not written"));
}

TEST_CASE("how a site stands is a sign as on the pages") {
  IndexedSite site = written("a.yaml", "a.html");
  const auto signs = [&](const char* standing) {
    return has(index_html({&site, 1}, built_in_language("en")),
               std::string("<svg class=\"sign ") + standing + "\"");
  };
  CHECK(signs("weak"));
  LinkTable& table = *site.table;
  table.weak_devices.clear();
  table.areas.clear();
  CHECK(signs("weak"));  // by its slots
  table.hubs.front().over_capacity = false;
  table.doubtful_devices = {"till contact"};
  CHECK(signs("close"));
  table.doubtful_devices.clear();
  CHECK(signs("fine"));
  table.links.clear();
  table.hubs.front().capacity.reset();
  CHECK(signs("fine"));  // no device and no slots to speak of
}

TEST_CASE("names of every kind are text on the index, and bytes in its links") {
  IndexedSite site = written("in/\"><img src=x onerror=1>&#%?.yaml", "\"><img src=x onerror=1>&#%?.html");
  site.table->site = "</a><script>1</script>\u202E";
  site.table->links[1].device = "<b>valve</b>";
  const IndexedSite other = written("javascript:alert(1).yaml", "javascript:alert(1).html");
  const IndexedSite foreign = written("M\u00FChle 1.yaml", "M\u00FChle 1.html");
  const IndexedSite wrong{.file = "<i>wrong.yaml", .page = "x", .faults = kMostFaults + 1};
  const std::string page = index_html(std::vector{site, other, foreign, wrong}, built_in_language("en"));
  for (const char* markup : {"<img", "<script", "<b>", "<i>", "\u202E", "href=\"javascript:"})
    CHECK_FALSE(has(page, markup));
  CHECK(has(page, "href=\"%22%3E%3Cimg%20src%3Dx%20onerror%3D1%3E%26%23%25%3F.html\""));
  CHECK(has(page, "href=\"javascript%3Aalert%281%29.html\""));
  CHECK(has(page, "href=\"M%C3%BChle%201.html\""));
  CHECK(has(page, "<bdi>&lt;/a&gt;&lt;script&gt;1&lt;/script&gt;\uFFFD</bdi>"));
  CHECK(has(page, "<bdi>&lt;b&gt;valve&lt;/b&gt;</bdi>"));
  CHECK(has(page, "<bdi>&lt;i&gt;wrong.yaml</bdi>"));
  CHECK(has(page, "Not written: over 200 faults."));
}
