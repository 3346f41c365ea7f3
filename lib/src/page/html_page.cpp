#include "twoturn/page/html_page.hpp"

#include <stdexcept>

#include "html_parts.hpp"

namespace twoturn {
namespace {

// The policy makes the browser itself refuse to fetch anything.
constexpr std::string_view kShell = R"(<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'{{#script}}; script-src 'unsafe-inline'{{/script}}; base-uri 'none'; form-action 'none'">
<meta name="format-detection" content="telephone=no">
<title>{{title}}</title>
<style>
:root { color-scheme: light; }
* { box-sizing: border-box; }
html { background: #fff; color: #000; -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }
body {
  margin: 0 auto; padding: 4mm; max-width: 198mm;
  font-family: Arial, "Liberation Sans", Arimo, "Nimbus Sans", Helvetica, "DejaVu Sans Condensed",
    sans-serif;
  font-size: 10.2pt; line-height: 1.2; overflow-wrap: anywhere;
}
h1, h2, h3, p, ul, ol, dl, dd, figure, table { margin: 0; padding: 0; }
svg { max-width: 100%; height: auto; }
@page { size: A4 portrait; margin: 7mm 10mm; }
@media print {
  body { padding: 0; max-width: none; }
}
@media screen and (max-width: 600px) {
  body { font-size: 16px; line-height: 1.35; padding: 12px; }
}
{{{css}}}</style>
</head>
<body>
{{{body}}}
{{#script}}<script>
{{{script}}}
</script>
{{/script}}</body>
</html>
)";

}  // namespace

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
  return html::filled(kShell, html::Data(data));
}

}  // namespace twoturn
