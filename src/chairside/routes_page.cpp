#include "chairside/page_files.hpp"
#include "chairside/routes.hpp"
#include "report/assets.hpp"

namespace retap::chairside {

void add_page_routes(Router& router) {
    const auto serve = [&router](std::string_view path, std::string_view media_type, std::string_view text) {
        router.add("GET", path, [media_type, text](const HttpRequest&, const PathParts&) {
            HttpReply reply;
            reply.media_type = media_type;
            reply.body = text;
            return reply;
        });
    };
    serve("/", "text/html; charset=utf-8", index_html());
    serve("/page.js", "text/javascript; charset=utf-8", page_js());
    serve("/page.css", "text/css; charset=utf-8", page_css());
    serve("/report/style.css", "text/css; charset=utf-8", report::style_css());
    serve("/report/playback.js", "text/javascript; charset=utf-8", report::playback_js());
}

} // namespace retap::chairside
