// The help of each command: what it does, how it is written, its words and keys, an example.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

namespace evenleg {

class HelpText : public CLI::Formatter {
 public:
  HelpText();

  // "Use: evenleg add HOUSE circuit NAME [--key VALUE …]".
  std::string make_usage(const CLI::App* app, std::string name) const override;
  // The kind of value after an option; nothing after a word that stands for itself.
  std::string make_option_opts(const CLI::Option* option) const override;
};

}  // namespace evenleg
