#include "twoturn/page/html_page.hpp"

#include <stdexcept>

#include "html_parts.hpp"
#include "page_files.hpp"
#include "twoturn/base/utf8.hpp"

namespace twoturn {
std::string html::filled(std::string_view text, const Data& data) {
  kainjow::mustache::mustache page{std::string(text)};
  if (!page.is_valid()) throw std::logic_error("template: " + page.error_message());
  std::string result = page.render(data);
  if (!page.is_valid()) throw std::logic_error("template: " + page.error_message());
  return result;
}

std::string html_page(const HtmlPage& page) {
  html::Object data;
  data["title"] = printable(page.title);
  data["css"] = page.css;
  data["body"] = page.body;
  if (!page.script.empty()) data["script"] = page.script;
  return html::filled(files::kShellHtml, html::Data(data));
}

}  // namespace twoturn
