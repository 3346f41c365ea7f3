#include <kainjow/mustache.hpp>

#include <string>

#include "page_files.hpp"
#include "twoturn/picture/draw.hpp"
#include "twoturn/picture/svg.hpp"

namespace twoturn {
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
  kainjow::mustache::mustache page{std::string(files::kPagesHtml)};
  return page.render(values);
}

}  // namespace twoturn
