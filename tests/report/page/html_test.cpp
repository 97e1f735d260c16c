#include "linkmargin/report/page/html.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

TEST_CASE("texts and attributes are escaped, names set apart") {
  html::Writer out;
  out.open("p", {{"class", ""}, {"title", "a \"b\" <c> & " + html::name("d")}, {"hidden", ""}, {"", "x"}});
  out.text("<b>1 & 2</b> of " + html::name("\u0627</p>") + ": 40 %");
  out.close();
  CHECK(out.take() ==
        "<p title=\"a &quot;b&quot; &lt;c&gt; &amp; d\" hidden>&lt;b&gt;1 &amp; 2&lt;/b&gt; of "
        "<bdi>\u0627&lt;/p&gt;</bdi>: 40\u00A0%</p>\n");
}

TEST_CASE("what would turn a text around or end a name's setting apart is replaced") {
  html::Writer out;
  out.element("b", html::name("a\u2069\u202Eb\x1b"));
  CHECK(out.take() == "<b><bdi>a\uFFFD\uFFFDb\uFFFD</bdi></b>\n");
  CHECK(html::plain("x " + html::name("y") + " z") == "x y z");
}

TEST_CASE("words beside a name are cleaned like names") {
  html::Writer out;
  out.element("b", {{"title", "a\u0085\u202E"}}, "c\u202Dd\u009B");
  CHECK(out.take() == "<b title=\"a\uFFFD\uFFFD\">c\uFFFDd\uFFFD</b>\n");
}

TEST_CASE("elements within a line bring no blank with them") {
  html::Writer out;
  out.open("li");
  out.element("a", {{"href", "#d"}}, "door");
  out.text(": well");
  out.close();
  out.lone("meta", {{"charset", "utf-8"}});
  CHECK(out.take() == "<li><a href=\"#d\">door</a>: well</li>\n<meta charset=\"utf-8\">\n");
}
