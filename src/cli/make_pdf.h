// A page as a PDF, by the renderer WeasyPrint where it is installed. It is run as a program of its
// own, reads the page from standard input and fetches nothing: the page refers to nothing.
#pragma once

#include <string>

namespace evenleg {

// Whether it is installed.
[[nodiscard]] bool has_pdf_renderer();

// The PDF's bytes. `out`: named in messages. Throws: Error(Request) where the renderer is missing,
// Error(File) where it fails.
[[nodiscard]] std::string make_pdf(const std::string& html, const std::string& out);

}  // namespace evenleg
