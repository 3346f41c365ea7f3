#include <kainjow/mustache.hpp>

#include <string>

#include "twoturn/picture/draw.hpp"
#include "twoturn/picture/svg.hpp"

namespace twoturn {
namespace {

constexpr const char* kPages = R"(<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>{{title}}</title>
<style>
@page { size: A4; margin: 0 }
body { margin: 0 }
.page { break-after: page; break-inside: avoid }
.page:last-child { break-after: auto }
.page svg { display: block }
h1 { font: bold 16px sans-serif; margin: 5mm; }
@media print { h1 { display: none } }
@media screen { .page { margin: 5mm; width: max-content; outline: 1px solid #999 } }
</style>
</head>
<body>
<main>
<h1>{{title}}</h1>
{{#pages}}<div class="page">
{{{svg}}}</div>
{{/pages}}</main>
</body>
</html>
)";

}  // namespace

std::string pages_html(const std::string& title, const std::vector<scene::Scene>& pages) {
  using kainjow::mustache::data;
  data list(data::type::list);
  int number = 0;
  for (const scene::Scene& page : pages) {
    data one;
    one.set("svg", svg_of(page, "p" + std::to_string(++number) + "-"));
    list.push_back(one);
  }
  data values;
  values.set("title", title);
  values.set("pages", list);
  kainjow::mustache::mustache page(kPages);
  return page.render(values);
}

}  // namespace twoturn
