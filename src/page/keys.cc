#include "src/page/keys.h"

#include <sys/random.h>

#include <array>
#include <cerrno>

#include "evenleg/base/error.h"

namespace evenleg {

std::string random_key() {
  std::array<unsigned char, 16> bytes{};
  std::size_t got = 0;
  while (got < bytes.size()) {
    const ssize_t more = getrandom(bytes.data() + got, bytes.size() - got, 0);
    if (more < 0 && errno == EINTR) continue;
    if (more <= 0) {
      throw Error(ErrorKind::File,
                  {"random source", "gives nothing", "see whether /dev/urandom is there"});
    }
    got += static_cast<std::size_t>(more);
  }
  constexpr std::string_view kDigits = "0123456789abcdef";
  std::string key;
  for (const unsigned char byte : bytes) {
    key += kDigits[byte >> 4U];
    key += kDigits[byte & 15U];
  }
  return key;
}

bool same_key(std::string_view a, std::string_view b) {
  if (a.size() != b.size()) return false;
  unsigned different = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    different |= static_cast<unsigned>(static_cast<unsigned char>(a[i])) ^
                 static_cast<unsigned>(static_cast<unsigned char>(b[i]));
  }
  return different == 0;
}

std::string Keys::token() const {
  const std::scoped_lock lock(lock_);
  return token_;
}

bool Keys::use(std::string_view token) {
  const std::scoped_lock lock(lock_);
  if (!same_key(token, token_)) return false;
  token_ = random_key();
  return true;
}

}  // namespace evenleg
