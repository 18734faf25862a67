// The service load of a dwelling by a stated calculation method.
#pragma once

namespace evenleg {

// A calculated current in whole amperes: a fraction below one half is dropped, any other counts as
// one more. Source: NEC 220.5(B); Annex D, preamble.
[[nodiscard]] double whole_amps(double amps);

}  // namespace evenleg
