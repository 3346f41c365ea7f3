// What the writers of HTML share: templates filled in, every text escaped on the way.
#pragma once

#include <kainjow/mustache.hpp>
#include <string>
#include <string_view>

namespace twoturn::html {

using Data = kainjow::mustache::data;
using List = kainjow::mustache::list;
using Object = kainjow::mustache::object;

/// Fills a mustache template in. {{name}} is escaped, quotes too; {{{name}}} is not, and only for
/// what this program itself wrote as HTML. A fault in the template is ours and throws.
std::string filled(std::string_view text, const Data& data);

}  // namespace twoturn::html
