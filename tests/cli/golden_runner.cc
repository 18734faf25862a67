// Runs the golden cases: golden_runner PROGRAM FOLDER [--rewrite]
//
// A case is a text file FOLDER/<command>[-<case>].test, run in a fresh folder of its own:
//
//   what it pins, in words; every line that is none of the following is such a comment
//   --- file house.toml        an input file, up to
//   --- end
//   $ evenleg show house.toml  a command; '...' and "..." keep words together
//   $ evenleg ... > FILE       the same, its output kept in a file
//   < text                     a line that is typed into it, after the command; none: nothing is
//   > text                     what it prints, each line after "> "
//   ! text                     what it says on standard error
//   = 2                        its exit status; 0 where there is no such line
//   $ cat FILE                 prints a file of the case's folder
//   $ same FILE FILE           status 1 where the two differ
//   $ damage FILE              overwrites it from byte 100 on
//
// --rewrite puts what was seen in place of what was expected: the change is then read and judged by
// a person before it is kept.
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

struct Result {
  std::vector<std::string> output, errors;
  int status = 0;

  bool operator==(const Result&) const = default;
};

struct Step {
  std::size_t line = 0;   // of the command, from 0
  std::size_t given = 0;  // first line after the command and what is typed
  std::size_t end = 0;    // first line after what is expected of it
  std::string command;
  std::string typed;
  Result expected;
};

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

bool starts(const std::string& line, std::string_view mark) { return line.rfind(mark, 0) == 0; }

// "> text" without its mark; ">" alone is an empty line.
std::string after_mark(const std::string& line) { return line.size() > 2 ? line.substr(2) : ""; }

std::vector<std::string> words_of(const std::string& command) {
  std::vector<std::string> words;
  std::string word;
  char quote = 0;
  bool in_word = false;
  for (char c : command) {
    if (quote != 0 && c == quote) {
      quote = 0;
    } else if (quote == 0 && (c == '"' || c == '\'')) {
      quote = c;
      in_word = true;
    } else if (quote == 0 && c == ' ') {
      if (in_word) words.push_back(word);
      word.clear();
      in_word = false;
    } else {
      word += c;
      in_word = true;
    }
  }
  if (in_word) words.push_back(word);
  return words;
}

// Runs `program` in `folder` with its input and its two outputs in files beside it.
Result run_program(const fs::path& program, std::vector<std::string> words,
                   const std::string& typed, const fs::path& folder, const fs::path& beside) {
  const fs::path in = beside / "input";
  std::ofstream(in, std::ios::binary) << typed;
  const fs::path out = beside / "output";
  const fs::path err = beside / "errors";
  std::cout.flush();
  const pid_t child = ::fork();
  if (child == 0) {
    const auto to = [](const fs::path& file, int descriptor) {
      constexpr mode_t kMode = 0600;
      const int opened = ::open(file.c_str(), O_WRONLY | O_CREAT | O_TRUNC, kMode);
      if (opened < 0 || ::dup2(opened, descriptor) < 0) ::_exit(EXIT_FAILURE);
    };
    const int input = ::open(in.c_str(), O_RDONLY);
    if (input < 0 || ::dup2(input, STDIN_FILENO) < 0) ::_exit(EXIT_FAILURE);
    to(out, STDOUT_FILENO);
    to(err, STDERR_FILENO);
    if (::chdir(folder.c_str()) != 0) ::_exit(EXIT_FAILURE);
    std::vector<char*> arguments;
    for (std::string& word : words) arguments.push_back(word.data());
    arguments.push_back(nullptr);
    ::execv(program.c_str(), arguments.data());
    ::_exit(EXIT_FAILURE);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  constexpr int kSignalled = 128;
  return {lines_of(text_of(out)), lines_of(text_of(err)),
          WIFEXITED(status) ? WEXITSTATUS(status) : kSignalled + WTERMSIG(status)};
}

Result damage(const fs::path& file) {
  constexpr std::streamoff kFrom = 100;
  const auto size = fs::file_size(file);
  std::fstream out(file, std::ios::binary | std::ios::in | std::ios::out);
  out.seekp(kFrom);
  for (std::uintmax_t i = kFrom; i < size; ++i) out.put('x');
  return {};
}

Result run_step(const Step& step, const fs::path& program, const fs::path& folder,
                const fs::path& beside) {
  std::vector<std::string> words = words_of(step.command);
  if (words.size() == 2 && words[0] == "cat") return {lines_of(text_of(folder / words[1])), {}, 0};
  if (words.size() == 3 && words[0] == "same") {
    const bool there = fs::exists(folder / words[1]) && fs::exists(folder / words[2]);
    const bool same = there && text_of(folder / words[1]) == text_of(folder / words[2]);
    return {{}, {}, same ? EXIT_SUCCESS : EXIT_FAILURE};
  }
  if (words.size() == 2 && words[0] == "damage") return damage(folder / words[1]);
  if (words.empty() || words[0] != "evenleg") {
    return {{}, {"golden_runner: not a command of a case: " + step.command}, EXIT_FAILURE};
  }
  std::string kept;
  if (words.size() > 2 && words[words.size() - 2] == ">") {
    kept = words.back();
    words.resize(words.size() - 2);
  }
  Result result = run_program(program, std::move(words), step.typed, folder, beside);
  if (!kept.empty()) {
    fs::rename(beside / "output", folder / kept);
    result.output.clear();
  }
  return result;
}

struct Case {
  std::vector<std::string> lines;
  std::vector<Step> steps;
};

// Reads a case and writes its input files into `folder`.
Case read_case(const fs::path& path, const fs::path& folder) {
  Case read{lines_of(text_of(path)), {}};
  constexpr std::string_view kFile = "--- file ";
  for (std::size_t i = 0; i < read.lines.size(); ++i) {
    const std::string& line = read.lines[i];
    if (starts(line, kFile)) {
      std::ofstream file(folder / line.substr(kFile.size()), std::ios::binary);
      while (++i < read.lines.size() && read.lines[i] != "--- end") file << read.lines[i] << '\n';
    } else if (starts(line, "$ ")) {
      Step step{i, i + 1, i + 1, line.substr(2), {}, {}};
      for (; step.given < read.lines.size() && starts(read.lines[step.given], "<"); ++step.given) {
        step.typed += after_mark(read.lines[step.given]) + "\n";
      }
      for (step.end = step.given; step.end < read.lines.size(); ++step.end) {
        const std::string& expected = read.lines[step.end];
        if (starts(expected, ">")) {
          step.expected.output.push_back(after_mark(expected));
        } else if (starts(expected, "!")) {
          step.expected.errors.push_back(after_mark(expected));
        } else if (starts(expected, "= ")) {
          step.expected.status = std::atoi(expected.c_str() + 2);
        } else {
          break;
        }
      }
      i = step.end - 1;
      read.steps.push_back(std::move(step));
    }
  }
  return read;
}

std::vector<std::string> marked(const Result& result) {
  std::vector<std::string> lines;
  const auto add = [&](char mark, const std::string& text) {
    lines.push_back(text.empty() ? std::string(1, mark) : fmt::format("{} {}", mark, text));
  };
  for (const std::string& text : result.output) add('>', text);
  for (const std::string& text : result.errors) add('!', text);
  if (result.status != 0) lines.push_back(fmt::format("= {}", result.status));
  return lines;
}

void print_difference(const fs::path& path, const Step& step, const Result& seen) {
  std::cout << fmt::format("{}:{}: $ {}\n", path.string(), step.line + 1, step.command);
  const std::vector<std::string> expected = marked(step.expected);
  const std::vector<std::string> found = marked(seen);
  for (std::size_t i = 0; i < std::max(expected.size(), found.size()); ++i) {
    const bool same = i < expected.size() && i < found.size() && expected[i] == found[i];
    if (same) continue;
    if (i < expected.size()) std::cout << "  expected  " << expected[i] << '\n';
    if (i < found.size()) std::cout << "  seen      " << found[i] << '\n';
  }
}

void rewrite(const fs::path& path, const Case& run, const std::vector<Result>& seen) {
  std::ofstream out(path, std::ios::binary);
  std::size_t step = 0;
  for (std::size_t i = 0; i < run.lines.size(); ++i) {
    out << run.lines[i] << '\n';
    if (step == run.steps.size() || run.steps[step].line != i) continue;
    while (i + 1 < run.steps[step].given) out << run.lines[++i] << '\n';
    for (const std::string& line : marked(seen[step])) out << line << '\n';
    i = run.steps[step].end - 1;
    ++step;
  }
}

// A folder that is there while this is.
class FreshFolder {
 public:
  FreshFolder() {
    std::string name = (fs::temp_directory_path() / "evenleg-case-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
    path_ = name;
    fs::create_directory(path_ / "case");
  }
  ~FreshFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  FreshFolder(const FreshFolder&) = delete;
  FreshFolder& operator=(const FreshFolder&) = delete;
  [[nodiscard]] const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

bool run_case(const fs::path& path, const fs::path& program, bool rewriting) {
  const FreshFolder fresh;
  const Case read = read_case(path, fresh.path() / "case");
  std::vector<Result> seen;
  bool good = !read.steps.empty();
  if (!good) std::cout << path.string() << ": has no command\n";
  for (const Step& step : read.steps) {
    seen.push_back(run_step(step, program, fresh.path() / "case", fresh.path()));
    if (seen.back() == step.expected) continue;
    good = false;
    if (!rewriting) print_difference(path, step, seen.back());
  }
  if (rewriting && !read.steps.empty()) rewrite(path, read, seen);
  return good || (rewriting && !read.steps.empty());
}

}  // namespace

int main(int argc, char** argv) {
  const bool rewriting = argc == 4 && std::string(argv[3]) == "--rewrite";
  if (argc != 3 && !rewriting) {
    std::cerr << "golden_runner: PROGRAM FOLDER [--rewrite]\n";
    return 2;
  }
  for (const char* name : {"NO_COLOR", "COLUMNS", "LC_ALL", "LANG"}) ::unsetenv(name);
  std::vector<fs::path> cases;
  for (const auto& entry : fs::directory_iterator(argv[2])) {
    if (entry.path().extension() == ".test") cases.push_back(entry.path());
  }
  std::sort(cases.begin(), cases.end());
  const fs::path program = fs::absolute(argv[1]);
  int passed = 0;
  int failed = 0;
  for (const fs::path& path : cases) (run_case(path, program, rewriting) ? passed : failed)++;
  std::cout << fmt::format("{} passed, {} failed\n", passed, failed);
  return failed == 0 && passed > 0 ? 0 : 1;
}
