// A house file served as one page to this machine alone: to be entered, watched and recorded.
//
// Everything on the page is an answer of the engine, given as JSON under the page's own address. An
// edit is one transaction of the house file; what is merely missing may stay so
// (edit/unfinished.h), an error is refused and changes nothing. Each change of the file, by a page
// or by another program, is told to all pages.
//
// Who may ask: the server listens on 127.0.0.1 only. The address that is told carries a token that
// opens the page once; it leads to an address with a key of its own, under which everything stands.
// Without the key, with a Host or an Origin that is not the server's, or with a body over 4 MB a
// request is refused. Nothing on the page comes from anywhere else, and its policy says so.
#pragma once

#include <filesystem>
#include <functional>
#include <string>

#include "evenleg/house/house.h"
#include "evenleg/record/record.h"
#include "evenleg/tables/tables.h"

namespace evenleg {

struct PageOptions {
  std::filesystem::path house;  // a house file
  int port = 0;                 // 0: any that is free
  std::string program;          // "evenleg 0.1.0"
  // Where a record of this house comes from; `date`: "" for today.
  std::function<Provenance(const House&, const std::string& date)> provenance;
  // A PDF's bytes from a page in HTML. Throws: Error where there is no renderer.
  std::function<std::string(const std::string& html)> make_pdf;
  // Told each time there is a new address to open the page by: the first, and one after each use.
  std::function<void(const std::string& address)> tell;
};

// Serves until the process is asked to end (SIGINT, SIGTERM, SIGHUP), and ends it with status 0.
// Throws: Error(File) where the house file cannot be read, Error(Request) where it is none or where
// the port cannot be had.
[[noreturn]] void serve_page(const PageOptions& options, const Tables& tables);

}  // namespace evenleg
