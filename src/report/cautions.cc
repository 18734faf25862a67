#include "evenleg/report/cautions.h"

namespace evenleg {
namespace {

// Behind these: a network operator's public advice for a broken neutral (main switch first, dry
// hands, call the operator); accounts of shocks at cut water services; common practice of the
// trade.
CautionGroup for_occupants() {
  return {
      "For the people in the house",
      {"Lights that brighten while others dim, a smell of burning, a buzzing panel, or a tingle "
       "from a tap or a metal case call for action at once.",
       "Where there is smoke or fire, or where the panel is hot, wet or buzzing, keep away from "
       "it, leave, and call the emergency services.",
       "Otherwise switch the main off if its handle can be reached without touching anything "
       "else, with dry hands and dry gloves: the panel's metal may be live. The cover stays on.",
       "If the main cannot be switched off that way, unplug electronics and leave the large "
       "appliances alone: every change of load moves the voltage elsewhere.",
       "If part of the house is dead, switch off the large appliances: range, dryer, water heater, "
       "air conditioner.",
       "Call the utility's emergency line, then a licensed electrician. Leave the main off until "
       "both agree that it may go on.",
       "Never touch a wire or clamp that has come off a water pipe, anything at the meter, or a "
       "fallen wire."}};
}

// Behind these: NFPA 70E and residential practice (energised work, protective equipment, absence of
// voltage proved); the utility's ownership of meter and seal; the see-saw of an open neutral
// itself.
CautionGroup for_the_trade() {
  return {
      "For those who work on it",
      {"Line side of the main and the meter stay live with the main off. Covers come off by "
       "qualified persons only, with the protective equipment that energised testing asks for, in "
       "a house as anywhere.",
       "Lock out, test before touch, and prove the tester before and after.",
       "The meter and its seal are the utility's.",
       "Never lift a neutral or a grounding electrode conductor on a live service. The neutral of "
       "a multiwire becomes live beyond the point where it is parted: all of its breakers off "
       "first, and verified.",
       "A bond to a water pipe is parted only with a temporary jumper across it.",
       "Before a heavy load is put on one leg as a test, unplug or switch off electronics on the "
       "other leg, which may rise. Keep the load on no longer than the reading takes.",
       "Permits, licences, conductor sizes and torques follow the local code and the maker's "
       "label."}};
}

}  // namespace

std::string_view standing_caution() {
  return "These figures are calculated from the description of the house, with every load taken "
         "as a constant impedance. They are estimates: they do not show that a fault exists, that "
         "there is none, or that any equipment may be relied on. Only qualified persons may open "
         "or test energised equipment. The local code, the authority having jurisdiction, the "
         "utility and a licensed electrician go before anything written here.";
}

const std::vector<CautionGroup>& caution_groups() {
  static const std::vector<CautionGroup> kGroups{for_occupants(), for_the_trade()};
  return kGroups;
}

}  // namespace evenleg
