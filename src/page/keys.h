// Who may ask: a token that opens the page once, and the key of the session that it opens.
#pragma once

#include <mutex>
#include <string>
#include <string_view>

namespace evenleg {

// 128 bits from the system's random source, as 32 hexadecimal digits. Throws: Error(File).
[[nodiscard]] std::string random_key();

// Takes as long whatever differs.
[[nodiscard]] bool same_key(std::string_view a, std::string_view b);

class Keys {
 public:
  Keys() : session_(random_key()), token_(random_key()) {}

  [[nodiscard]] const std::string& session() const { return session_; }
  [[nodiscard]] std::string token() const;
  // True where it is the token; another one then takes its place.
  [[nodiscard]] bool use(std::string_view token);

 private:
  std::string session_;
  mutable std::mutex lock_;
  std::string token_;
};

}  // namespace evenleg
