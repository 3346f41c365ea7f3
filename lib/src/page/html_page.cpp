#include "twoturn/page/html_page.hpp"

#include <stdexcept>

#include "html_parts.hpp"
#include "page_files.hpp"

namespace twoturn {
std::string html::filled(std::string_view text, const Data& data) {
  kainjow::mustache::mustache page{std::string(text)};
  if (!page.is_valid()) throw std::logic_error("template: " + page.error_message());
  std::string result = page.render(data);
  if (!page.is_valid()) throw std::logic_error("template: " + page.error_message());
  return result;
}

std::string html::printable(std::string_view text) {
  std::string safe;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const auto next = static_cast<unsigned char>(i + 1 < text.size() ? text[i + 1] : ' ');
    const bool c0 = byte < 0x20 || byte == 0x7F;
    const bool c1 = byte == 0xC2 && next >= 0x80 && next < 0xA0;  // U+0080 to U+009F
    if (c1) ++i;
    if (c0 || c1) {
      if (!safe.empty() && safe.back() != ' ') safe += ' ';
    } else {
      safe += text[i];
    }
  }
  return safe;
}

std::string html_page(const HtmlPage& page) {
  html::Object data;
  data["title"] = html::printable(page.title);
  data["css"] = page.css;
  data["body"] = page.body;
  if (!page.script.empty()) data["script"] = page.script;
  return html::filled(files::kShellHtml, html::Data(data));
}

}  // namespace twoturn
