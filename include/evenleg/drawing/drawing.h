// A drawing as one SVG, and what it says to those who cannot see it.
//
// Every drawing is 480 units wide on a white ground, so that its text can be read on a phone and on
// a page printed in black and white. Legs are told by name and by pattern first (first leg solid,
// second hatched, third dotted), by colour second. Text is text: it can be selected and searched.
// Names of the house are shown as text whatever they hold.
#pragma once

#include <string>

namespace evenleg {

struct Drawing {
  std::string name;         // "service-wires": unique within a record
  std::string title;        // a line above it
  std::string description;  // what it shows, in words and figures
  std::string svg;          // whole, with title and description inside
};

}  // namespace evenleg
