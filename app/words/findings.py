"""Sentences of findings: subject first, the reason with its figures, what would put it right where that is one act."""

from __future__ import annotations

SENTENCES: dict[str, str] = {
    "no-demand": "{subject}: nothing is asked of this kind.",
    "no-circuit": "Not shown as fit: no circuit was named, so nobody can tell what the kit must stand.",
    "limit-not-seen-in-print": "{subject}: not shown as fit: the figure {limit} has not been seen in print. "
    "An officer can confirm it against the document under the site rules.",
    "stands.voltage-unknown": "{subject}: not shown as fit: the working voltage of {circuit} is not known.",
    # state and whereabouts
    "not-held.held": "{subject} is held since {since:day} ({why}). It stays in the crib until it is released.",
    "not-held.released-without-evidence": "{subject}, held since {since:day} ({why}), was released without what clears such a hold. It stays held.",
    "not-held.defect": "{subject} is held: a defect was found on {since:day} ({defects}) and nothing has cleared it since.",
    "not-held.failed": "{subject} is held: it failed its electrical test ({since:day}) and has passed none since.",
    "not-held.free": "{subject} is not held.",
    "not-withdrawn.withdrawn": "{subject} was withdrawn for good on {since:day}.",
    "not-withdrawn.breakdown": "{subject} has had a breakdown test and is never used again.",
    "not-withdrawn.lost": "{subject} is entered as lost. Put it back on the shelf list once it is found.",
    "not-withdrawn.in-service": "{subject} is in service.",
    "at-hand.out": "{subject} is out since {since:day} and has not been returned. Take it back first.",
    "at-hand.elsewhere": "{subject} is in the keeping of {holder}, who does not do this work.",
    "at-hand.here": "{subject} is at hand.",
    "hands-belong-together.single": "{subject} is a single {hand} glove. A pair goes out, never one hand.",
    "hands-belong-together.pair": "{subject} is a pair.",
    "no-piece-twice.twice": "{piece} stands twice in this kit. Scan each piece once.",
    "no-piece-twice.once": "No piece stands twice.",
    # class, marks, voltage
    "class-known.no-system": "{subject}: not shown as fit: the mark's class system is not known. "
    "Read the standard printed beside the class.",
    "class-known.other-system": "{subject}: not shown as fit: its class is of the {system:system} system, "
    "which {set} does not judge.",
    "class-known.no-class": "{subject}: not shown as fit: no class is known. Read the label on the cuff.",
    "class-known.not-in-table": "{subject}: not shown as fit: class {insulation_class} is not in the table.",
    "class-known.kind-not-covered": "{subject}: not shown as fit: {set} says nothing about this kind.",
    "class-known.known": "{subject} is marked class {measured}.",
    "insulation-class-stands-voltage.class-unknown": "{subject}: not shown as fit: without a known class nobody can "
    "say whether it stands {required:volts} on {circuit}.",
    "insulation-class-stands-voltage.no-limit": "{subject}: not shown as fit: of {set} no {current:current} limit "
    "for its class was seen; {circuit} asks {required:volts}.",
    "insulation-class-stands-voltage.short": "{subject}, class {insulation_class}, stands {measured:volts} "
    "{current:current}; {circuit} asks {required:volts}: {shortfall_v:volts} short.",
    "insulation-class-stands-voltage.reaches": "{subject}, class {insulation_class}, stands {measured:volts} "
    "{current:current}; {circuit} asks {required:volts}.",
    "insulation-class-stands-voltage.no-dc-test": "{subject} goes on a DC circuit and has no record of a test with DC.",
    "voltage-mark-stands-voltage.no-mark": "{subject}: not shown as fit: no {current:current} voltage mark is known; "
    "{circuit} asks {required:volts}. Look for the double triangle and its volts.",
    "voltage-mark-stands-voltage.short": "{subject} is marked {measured:volts} {current:current}; {circuit} asks "
    "{required:volts}: {shortfall_v:volts} short.",
    "voltage-mark-stands-voltage.reaches": "{subject} is marked {measured:volts} {current:current}; {circuit} asks "
    "{required:volts}.",
    # electrical test
    "electrical-test.not-asked": "{subject}: no electrical test is asked of this kind.",
    "electrical-test.exempted": "{subject}: classes 00 and 0 are exempted from the electrical test by a site rule.",
    "electrical-test-in-date.no-material": "{subject}: not shown as fit: its retest hangs on the rubber, natural or "
    "synthetic, and that is not known.",
    "electrical-test-in-date.exempt": "{subject}: exempted from the electrical test; air test and look-over of "
    "{done_on:day}, use until {use_until:day}.",
    "electrical-test-in-date.exempt-unchecked": "{subject}: exempted from the electrical test, but no air test of both "
    "hands is on record within {required:number} months. Do one, or have the pair tested.",
    "electrical-test-in-date.exempt-overdue": "{subject}: exempted from the electrical test; the air test of {done_on:day} "
    "stood for it until {use_until:day} and was due again {due_on:day}. Do one, or have the pair tested.",
    "electrical-test-counts.counts": "{subject}: the electrical test of {measured:day} counts.",
    "electrical-test-counts.none": "{subject} has no electrical test on record.",
    "test.breakdown": "{subject} broke down in its test.",
    "test.lab-failed": "{subject}: the laboratory says failed ({day:day}).",
    "test.current-above": "{subject}: {measured_ua:milliamps} through the {hand} hand is above the limit of {limit_ua:milliamps}.",
    "test.no-current": "{subject}: 0 mA through the {hand} hand under AC: it was not connected, or not read, so the test does not count.",
    "test.limit-used": "Held against {limit_ua:milliamps} a hand at {frequency_hz:number} Hz.",
    "test.no-day": "{subject}: a test gives no day, so it does not count.",
    "test.names-no-piece": "{subject}: the certificate of {day:day} does not name this piece, so it does not count.",
    "test.no-result": "{subject}: the test of {day:day} states no result, so it does not count.",
    "test.certificate-not-seen": "{subject}: the test of {day:day} stands only on the sheet. "
    "It counts once somebody confirms that the certificate was seen.",
    "test.figures-required": "{subject}: the certificate of {day:day} states a pass without figures, and this site "
    "requires figures. Somebody who has seen the certificate can confirm it.",
    "test.lab-not-listed": "{subject}: {lab} is not on this site's list of laboratories.",
    "test.class-unknown": "{subject}: the test of {day:day} cannot be judged without a known class.",
    "test.figure-missing": "{subject}: the test of {day:day} does not give {figure:figure}, so it does not count.",
    "test.no-limit-printed": "{subject}: no test voltage was seen for this class, so the test does not count.",
    "test.voltage-low": "{subject}: tested on {day:day} with {measured_v:volts}, the class asks {required_v:volts}; "
    "it does not count.",
    "test.dwell-short": "{subject}: held for {measured_s} s on {day:day}, {required_s} s are asked; it does not count.",
    "test.length-unknown": "{subject}: without a known length the current in the test of {day:day} cannot be judged.",
    "test.no-current-limit": "{subject}: no current limit was seen for this class and length, so the test of "
    "{day:day} does not count.",
    "test.dwell-long": "{subject} was held at voltage for {measured_s} s, longer than the {limit_s} s usual in a retest.",
    "test.voltage-far-above": "{subject} was tested with {measured_v:volts}, as high as the withstand voltage of its "
    "class ({limit_v:volts}).",
    "electrical-test-in-date.failed": "{subject} failed its electrical test ({day:day}) and has passed none since.",
    "electrical-test-in-date.none": "{subject} has no electrical test on record. Test it before it goes out.",
    "electrical-test-in-date.none-counts": "{subject}: none of its electrical tests counts, so no due day can be given.",
    "electrical-test-in-date.overdue": "{subject}: the test of {tested_on:day} was good until {use_until:day}; "
    "the retest was due {due_on:day} ({why:limit}).",
    "electrical-test-in-date.in-date": "{subject}: use until {use_until:day} (retest due {due_on:day}; {why:limit}).",
    "electrical-test-in-date.due-soon": "{subject} is due soon: use until {use_until:day} (retest due {due_on:day}).",
    "no-open-event.open": "{subject} was {event:event} on {day:day}, and no test has answered that.",
    "no-open-event.not-released": "{subject} was {event:event} on {day:day} and has not been released since.",
    "no-open-event.none": "{subject}: nothing has happened that asks a test.",
    "repair-allowed.none": "{subject} has not been repaired.",
    "repair-allowed.allowed": "{subject}: the repair of {day:day} ({repair:repair}) is an allowed one.",
    "repair-allowed.not-this-way": "{subject}: it may not be {repair:repair} ({day:day}). Withdraw it.",
    "repair-allowed.too-small": "{subject}: {measured:number} mm remain of it after it was trimmed ({day:day}); at least "
    "{required:number} x {required:number} mm are asked. Withdraw it.",
    "repair-allowed.size-unknown": "{subject}: not shown as fit: what remains after it was trimmed ({day:day}) is not "
    "known; at least {required:number} x {required:number} mm are asked.",
    "repair-allowed.no-clause": "{subject}: not shown as fit: {set} was not seen to say whether it may be repaired ({day:day}).",
    "repair-allowed.not-there": "{subject}: repaired on the {place} ({day:day}); only between wrist and cuff edge is allowed.",
    "repair-allowed.unknown": "{subject}: not shown as fit: what was repaired on {day:day}, and where, is not known.",
    # checks of the day
    "air-test-done.not-today": "{subject} has no air test today. Test each hand, right side out and turned.",
    "air-test-done.defect": "{subject} failed today's air test ({defects}). Hold the pair.",
    "air-test-done.one-hand": "{subject}: only one hand was air-tested today. Test both.",
    "air-test-done.inflation-unknown": "{subject}: not shown as fit: how far the gloves were blown up was not recorded.",
    "air-test-done.type-unknown": "{subject}: not shown as fit: blown up to {measured:number} times its size, and the "
    "type is not known; {required:number} times is the limit for Type II.",
    "air-test-done.over-inflated": "{subject} was blown up to {measured:number} times its size; at most "
    "{required:number} times is allowed.",
    "air-test-done.done": "{subject} was air-tested today, both hands.",
    "looked-over.defect": "{subject} has a defect ({defects}). Hold it.",
    "looked-over.current-jack": "{subject} has a lead in its current jack: it would short the circuit. Move the lead "
    "to the volts jack and look again.",
    "looked-over.done": "{subject} was looked over today.",
    "looked-over.by-air-test": "{subject} was looked over with today's air test.",
    "looked-over.not-today": "{subject} has not been looked over today.",
    "self-test-done.not-today": "{subject} has no self-test today.",
    "self-test-done.failed": "{subject} failed its self-test today. Do not use it: another try does not mend it. It is released by "
    "name and passes after that, or goes to repair.",
    "self-test-done.done": "{subject} passed its self-test today.",
    "calibration-in-date.not-asked": "{subject} is self-tested and proved at each use, not calibrated.",
    "calibration-in-date.none": "{subject} has no calibration on record.",
    "calibration-in-date.failed": "{subject} failed its last calibration.",
    "calibration-in-date.overdue": "{subject}: the calibration of {done_on:day} was good until {use_until:day}; "
    "it was due {due_on:day}.",
    "calibration-in-date.in-date": "{subject}: calibrated, use until {use_until:day} (due {due_on:day}).",
    "look-over-in-date.due-soon": "{subject}: yearly look-over due soon, use until {use_until:day} (due {due_on:day}).",
    "calibration-in-date.due-soon": "{subject}: calibration due soon, use until {use_until:day} (due {due_on:day}).",
    "look-over-in-date.none": "{subject} has no yearly look-over on record.",
    "look-over-in-date.overdue": "{subject}: the yearly look-over of {done_on:day} ran out on {use_until:day}.",
    "look-over-in-date.in-date": "{subject}: yearly look-over of {done_on:day}, use until {use_until:day}.",
    "look-over-in-date.not-refused": "{subject}: the yearly look-over is advice for tools.",
    # protectors and fit
    "protectors-worn.missing": "{subject}: pairs of gloves that go under protectors in the kit: {required}; protectors: {measured}. "
    "Every pair goes out under protectors.",
    "protectors-worn.own-protection": "{subject} brings mechanical protection of its own.",
    "protectors-worn.in-kit": "{subject} goes out under protectors.",
    "protectors-worn.dexterity-not-stated": "{subject}: nobody has stated by name that the work cannot be done with "
    "protectors on.",
    "protectors-worn.class-unknown": "{subject}: not shown as fit without protectors: the class is not known.",
    "protectors-worn.damage-risk-not-stated": "{subject}: without protectors, class 1 and above also ask that somebody "
    "states by name that damage is unlikely.",
    "protectors-worn.held-afterwards": "{subject} is held after use without protectors, until a test names it.",
    "protectors-worn.no-limit": "{subject}: not shown as fit: no voltage is given for this class without protectors.",
    "protectors-worn.bare-short": "{subject} without protectors stands {measured:volts}; {circuit} asks {required:volts}.",
    "protectors-worn.bare-reaches": "{subject} without protectors stands {measured:volts}; {circuit} asks {required:volts}.",
    "protector-fits-class.cut-unknown": "{subject}: not shown as fit: the class it is cut for is not known.",
    "protector-fits-class.glove-class-unknown": "{subject}: not shown as fit: the gloves' class is not known.",
    "protector-fits-class.other-class": "{subject} is cut for class {measured}; the gloves are class {required}.",
    "protector-fits-class.too-few": "{subject}: fewer protectors cut for class {insulation_class} than pairs of gloves.",
    "protector-fits-class.leather-not-allowed": "{subject}: {leather} leather is for classes 00 and 0 only.",
    "protector-fits-class.leather-unlisted": "{subject}: not shown as fit: {leather} is no leather the standard lists.",
    "protector-fits-class.thin": "{subject}: leather of {measured:number} mm, at least {required:number} mm is asked.",
    "protector-fits-class.thick": "{subject}: leather of {measured:number} mm, at most {required:number} mm is allowed.",
    "protector-fits-class.fits": "{subject} fits the gloves' class.",
    "cuff-clearance.no-protectors": "{subject} is used without protectors, so no clearance is asked.",
    "cuff-clearance.class-unknown": "{subject}: not shown as fit: without a known class no clearance can be named.",
    "cuff-clearance.not-measured": "{subject}: not shown as fit: the cuff clearance was not measured and cannot be "
    "worked out; {required:number} mm are asked.",
    "cuff-clearance.short": "{subject}: the cuff stands out {measured:number} mm past the protector ({how}); "
    "{required:number} mm are asked.",
    "cuff-clearance.covered": "{subject}: the protector reaches {past:number} mm past the edge of the cuff ({how}); "
    "the cuff has to stand out {required:number} mm.",
    "cuff-clearance.reaches": "{subject}: the cuff stands out {measured:number} mm past the protector ({how}); "
    "{required:number} mm are asked.",
    "glove-fits-wearer.no-sizes": "{subject}: not shown as fit: no glove sizes are known for {person}.",
    "glove-fits-wearer.no-size": "{subject}: not shown as fit: its size is not known.",
    "glove-fits-wearer.off": "{subject} is size {measured:number}; {person} wears {required}.",
    "glove-fits-wearer.fits": "{subject}, size {measured:number}, fits {person}.",
    "glove-fits-wearer.near": "{subject}, size {measured:number}, is within one size of what {person} wears ({required}).",
    "glove-fits-wearer.one-off": "{subject} is size {measured:number}; {person} wears {required}. Try them on first.",
    # measurement chain
    "chain.leads-without-instrument": "{parts}: loose leads or tips and no instrument to plug them into. Add the "
    "instrument, or leave them out.",
    "chain.say-which": "{parts}: more than one instrument could take these. Say which belongs to which.",
    "chain-complete.complete": "{subject}: the chain is complete.",
    "chain-complete.no-leads": "{subject} has no leads in this kit.",
    "chain-complete.leads-unknown": "{subject}: not shown as fit: whether its leads are fixed is not known.",
    "chain-stands-voltage.category-unknown": "{subject}: not shown as fit: the measurement category of {circuit} is not "
    "known.",
    "chain-stands-voltage.mark-unknown": "{subject}: not shown as fit: what {member} offers at CAT {category} is not "
    "known (mark illegible, or caps not looked over); {circuit} asks {required:volts}.",
    "chain-stands-voltage.short": "{subject}: {member} offers {measured:volts} at CAT {category}; {circuit} asks "
    "{required:volts}: {shortfall_v:volts} short.",
    "chain-stands-voltage.short.alone": "{subject} offers {measured:volts} at CAT {category}; {circuit} asks "
    "{required:volts}: {shortfall_v:volts} short.",
    "chain-stands-voltage.nothing.alone": "{subject} has no mark at CAT {category} or above; {circuit} asks "
    "{required:volts}.",
    "chain-stands-voltage.mark-unknown.alone": "{subject}: not shown as fit: what it offers at CAT {category} is not "
    "known (mark illegible, or caps not looked over); {circuit} asks {required:volts}.",
    "chain-stands-voltage.reaches.alone": "{subject} offers {measured:volts} at CAT {category}; {circuit} asks "
    "{required:volts}.",
    "chain-stands-voltage.nothing": "{subject}: {member} has no mark at CAT {category} or above; {circuit} asks "
    "{required:volts}.",
    "chain-stands-voltage.reaches": "{subject} offers {measured:volts} at CAT {category} ({member} is the weakest); "
    "{circuit} asks {required:volts}.",
    "input-stands-voltage.not-stated": "{subject}: not shown as fit: the maximum {current:current} input between its "
    "terminals is not stated; {circuit} asks {required:volts}.",
    "input-stands-voltage.short": "{subject}: at most {measured:volts} {current:current} between the terminals; "
    "{circuit} asks {required:volts}: {shortfall_v:volts} short.",
    "input-stands-voltage.reaches": "{subject}: up to {measured:volts} {current:current} between the terminals; "
    "{circuit} asks {required:volts}.",
    "tip-exposure.no-tip": "{subject} ends in no tip of its own.",
    "tip-exposure.not-stated": "{subject}: not shown as fit: how much of the tip is bare is not stated; at most "
    "{required:number} mm is allowed.",
    "tip-exposure.long": "{subject}: {measured:number} mm of tip are bare; at most {required:number} mm is allowed.",
    "tip-exposure.short": "{subject}: {measured:number} mm of tip are bare; at most {required:number} mm is allowed.",
    "tip-exposure.over-preferred": "{subject}: {measured:number} mm of tip are bare; 2 mm or a shroud is preferred.",
    "fuse-fit.none": "{subject} has no fuse to judge.",
    "fuse-fit.kind": "{subject}: the fuse is {kind}. Fit one of high breaking capacity.",
    "fuse-fit.kind-unknown": "{subject}: not shown as fit: the kind of fuse is not known.",
    "fuse-fit.ac-only": "{subject}: the fuse is for AC only, and {circuit} carries DC.",
    "fuse-fit.not-stated": "{subject}: not shown as fit: the fuse's volts, or whether it is for DC, are not known.",
    "fuse-fit.short": "{subject}: the fuse is for {measured:volts}; {circuit} asks {required:volts}: "
    "{shortfall_v:volts} short.",
    "fuse-fit.fits": "{subject}: the fuse fits.",
    "altitude-within-mark.above": "{subject} is made for up to {required:number} m; this place is at {measured:number} m.",
    "altitude-within-mark.within": "{subject} is made for up to {required:number} m.",
    "altitude-within-mark.step-down-advice": "Advice only, {subject} stays refused: its mark CAT {category} {marked_v:volts} stands for an impulse of {rated_v:volts}, "
    "of which {advice_v:volts} would be left at {altitude_m:number} m, by clearances that have not been seen in print.",
    "altitude-within-mark.site-not-stated": "{subject}: the site's altitude is not stated and was taken as up to "
    "{required:number} m.",
    "proving-unit-fits.output-unknown": "{subject}: not shown as fit: what it puts out is not known.",
    "proving-unit-fits.other-current": "{subject} gives no {current:current}, which this circuit carries.",
    "proving-unit-fits.threshold-unknown": "{subject}: not shown as fit: from how many volts {instrument} indicates "
    "{current:current} is not known.",
    "proving-unit-fits.below-threshold": "{subject} gives {measured:volts} {current:current}; {instrument} only "
    "indicates above {required:volts}.",
    "proving-unit-fits.fits": "{subject} proves the instruments of this kit.",
    "instrument-suits-task.not-asked": "{subject} suits the task.",
    "instrument-suits-task.detector": "{subject} suits proving dead.",
    "instrument-suits-task.other": "{subject} ({what:kind}) does not prove dead. Take a two-pole voltage detector.",
    "instrument-suits-task.multimeter": "{subject} is a meter: proving dead is for a two-pole voltage detector, "
    "unless the vehicle maker's procedure names a multimeter and the system's card says so.",
    "instrument-suits-task.multimeter-named": "{subject} is a multimeter, and the vehicle maker's procedure names one.",
    "instrument-suits-task.threshold": "{subject} indicates only above the limit of voltage class A: by indication "
    "alone it proves nothing below its own threshold. Read the figure.",
    # task, people, place
    "task-roles-filled.no-task": "Not shown as fit: no task was named.",
    "task-roles-filled.missing": 'The kit lacks {roles:roles}, which the task "{task:task}" asks.',
    "task-roles-filled.filled": 'Every role of "{task:task}" is filled.',
    "person-authorised.nobody": "Not shown as fit: nobody was named for this work.",
    "person-authorised.scope": '{person} is not authorised for this task: it asks the scope "{required}".',
    "person-authorised.no-end": "{person}: not shown as fit: no last day of the authorisation is known.",
    "person-authorised.ended": "{person}'s authorisation ended on {use_until:day}.",
    "person-authorised.until": '{subject} is authorised for the scope "{required}" until {use_until:day}.',
    "person-authorised.authorised": '{subject} is authorised for the scope "{required}".',
    "second-person-present.not-asked": "No second person is asked.",
    "second-person-present.missing": 'The task "{task:task}" asks a second person, and none was named.',
    "second-person-present.same": "{person} cannot be both the person and the second person.",
    "second-person-present.no-own-gloves": "{person}, the second person, has no gloves and protectors of their own in "
    "this kit.",
    "second-person-present.present": "{person} is the second person.",
    "place-dry.wet": "The place is {place}: meters and detectors are for dry places.",
    "place-dry.dry": "Nothing says the place is wet.",
    # circuits
    "working-voltage-known.known": "{subject}: working voltage {measured:volts}, {origin:origin}.",
    "working-voltage-known.unknown-lithium": "{subject}: the chemistry is not known; 4.45 V a cell was taken.",
    "working-voltage-known.nominal-only": "{subject}: not shown as fit: only a nominal voltage ({measured:volts}) is "
    "known, and a charged pack stands higher. Ask for the cells in series and their chemistry, the data plate or the "
    "maker's maximum.",
    "working-voltage-known.reading-only": "{subject}: not shown as fit: a reading of {measured:volts} is only a lower "
    "bound. Ask for the cells, the data plate or the maker's maximum.",
    "working-voltage-known.reading-range": "{subject}: not shown as fit: a reading of {measured:volts} fits {fewest} to "
    "{most} cells in series, which can reach {highest_v:volts}. Ask for their number, the data plate or the maker's maximum.",
    "working-voltage-known.nothing": "{subject}: not shown as fit: no voltage is known. Ask for the cells in series and "
    "their chemistry, the data plate or the maker's maximum.",
    "set.no-dc-limits": "{set} has no limits for DC: nothing can be issued under it on a traction battery.",
    "circuit-in-scope.above": "{subject}: {measured:volts} is above what this register decides on (1,500 V DC, "
    "1,000 V AC).",
    "circuit-in-scope.class-a-assumed": "{subject}: not shown as fit: voltage class A is never concluded from an assumed "
    "cell voltage. Ask the maker for the maximum cell voltage.",
    "circuit-in-scope.class-a": "{subject} is voltage class A on {measured:volts}; nothing is asked less for that.",
    "circuit-in-scope.class-b": "{subject} is voltage class B on {measured:volts}.",
    "data-agrees-with-reading.no-reading": "{subject}: no reading contradicts the data.",
    "data-agrees-with-reading.contradicts": "{subject}: not shown as fit: {measured:volts} was read, above the working "
    "voltage of {required:volts}. A figure on the system's card is wrong; mend it first.",
    "data-agrees-with-reading.agrees": "{subject}: the reading of {measured:volts} agrees with the data.",
    "arc-rating.no-shield": "The job states {measured:number} cal/cm2, and the kit has no arc face shield.",
    "arc-rating.not-asked": "{subject}: the job states no incident energy.",
    "arc-rating.energy-not-stated": "{subject}: no incident energy is stated for this job, so the shield's rating was not "
    "held against anything.",
    "arc-rating.unknown": "{subject}: not shown as fit: its arc rating is not known; {required:number} cal/cm2 is stated.",
    "arc-rating.beyond": "The job states {measured:number} cal/cm2. Above {required:number} cal/cm2 the categories end: "
    "not to be worked on live. The vehicle maker's procedure, local law and the authorised person decide.",
    "arc-rating.short": "{subject} is rated {measured:number} cal/cm2; the job states {required:number} cal/cm2.",
    "arc-rating.hood": "{subject}: at {required:number} cal/cm2 a hood is asked.",
    "arc-rating.balaclava": "{subject}: at {required:number} cal/cm2 a balaclava or a hood is asked beside the shield.",
    "arc-rating.reaches": "{subject} is rated {measured:number} cal/cm2; the job states {required:number} cal/cm2.",
    "site-rule.not-applied": "Site rule {subject}: the looser value was not applied, because nobody is named who "
    "approved it.",
    "site-rule.applied": "Site rule {subject}: a looser value applies, approved by {approved_by}: {reason}.",
    "figures-not-primary": "{count} sources behind this decision were seen only at second hand (secondary texts, handouts): {clauses}.",
    "calculation.not-seen-in-print": "A figure behind this is from memory and has not been seen in print: a decision waits "
    "until somebody has confirmed it.",
    "calculation.row-inferred": "This row is inferred from the overvoltage table.",
    "calculation.arc-time-assumed": "No clearing time was stated, so 2 s was assumed. Advice only; it never lowers the protection against shock.",
    "calculation.arc-open-air-taken": "No enclosure was stated, so open air was taken; an enclosure can throw up to three times as much. Advice only; it never lowers the protection against shock.",
    "calculation.arc-open-air-and-time": "No clearing time and no enclosure were stated: 2 s was assumed and open air taken; an enclosure can throw up to three times as much. Advice only; it never lowers the protection against shock.",
    "calculation.arc-box-unseen": "The factors of this box are from memory and have not been seen in print. Advice only; it never lowers the protection against shock.",
    "calculation.arc-box-unseen-and-time": "The factors of this box are from memory and have not been seen in print, and 2 s was assumed because no clearing time was stated. Advice only; it never lowers the protection against shock.",
    "calculation.step-down-is-advice": "Advice only: a piece above its marked altitude stays refused.",
    "calculation.clearance-not-seen": "Clearances that have not been seen in print decide this. Advice only: a piece above its marked altitude stays refused.",
    "calculation.inverter-full-link": "Every pulse reaches the full DC link, so kit is chosen on the link and never on this figure.",
    "calculation.double-insulation-not-stated": "Double insulation of the AC bus was not stated and was taken as missing.",
    "calculation.bond-current-small": "Measured with less than 0.2 A, a bond shows nothing.",
}  # fmt: skip
