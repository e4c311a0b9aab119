#include "app/cli/help_text.h"

namespace holdwell {

const std::string_view kHelp =
    R"(Holdwell listens while you hold a note, and shows how near it is and how long it lasts.

  holdwell                    open the coach in its window
  holdwell --demo FILE        the same, with a recording in place of the microphone
  holdwell coach              practise here in the terminal, in plain lines
  holdwell measure FILE...    measure recordings
  holdwell devices            list the microphones

Plans and records:
  holdwell plan               check, show and begin plans
  holdwell client             who is in the records
  holdwell practice list      what was practised
  holdwell report             a report for the chart, as PDF
  holdwell export             write a file to hand over
  holdwell import FILE        take in a file that was handed over
  holdwell records            where the records are

Options:
  --demo FILE     play a recording through the coach as if it were sung now
  --example DIR   open on the practice files in a folder, to look around; nothing is kept
  --version       print the version
  -h, --help      this page; "holdwell COMMAND --help" says more about a command

Examples:
  holdwell
  holdwell coach --note F4 --goal 18
  holdwell measure --target F4 my-hold.wav

Everything stays on this computer; nothing is sent anywhere. Holdwell is a practice aid and
does not diagnose. If practice hurts or makes you hoarse, stop and tell your therapist.
)";

const std::string_view kMeasureHelp =
    R"(Measures recordings: how long each note is held, how near it is, how it begins.

  holdwell measure [OPTIONS] FILE...

Reads WAV, FLAC, OGG and AIFF, 8 to 192 kHz; of several channels, the loudest one.

What to listen for:
  --drill KIND      any (all there is), hold, s, z, glide-up or glide-down [any]
  --target NOTE     the note asked for: F4, Bb3, or hertz such as 349.2 [none]
  --band CENTS      how far off still counts, to each side, 1 to 1200 [100]
  --bridge MS       a shorter gap is an interruption, not an end, 0 to 2000 [300]
  --shortest S      leave out anything shorter, 0.1 to 60 seconds [1.0]

What to print:
  --format FORM     text for reading, json (one object a line), or csv [text]
  --frames          every 10 ms of one file as CSV: time, f0, confidence, level, phonation
  --jobs N          files measured at once [one for each processor]
  -h, --help        this page

Examples:
  holdwell measure my-hold.wav
  holdwell measure --target F4 --band 50 monday.flac tuesday.flac
  holdwell measure --format csv *.wav > holds.csv

A file that cannot be read gets one line of its own; the others are still measured, and the
exit status is 1. An option that is not understood: exit status 2.
)";

const std::string_view kCoachHelp =
    R"(Practise one note in the terminal: it plays the note, listens, and says in plain lines what
it heard. Press Ctrl and C to stop at any time.

  holdwell coach [OPTIONS]

  --note NOTE       the note to hold, C2 to C6 [F4]
  --band CENTS      how far off still counts, to each side, 10 to 300 [100]
  --goal S          how long to hold, 1 to 120 seconds [as long as it is easy]
  --trials N        stop after so many holds [2; all there are in a recording]
  --silent          do not play the note
  --file FILE       listen to a recording instead of the microphone
  --fast            with --file: do not wait for it to sound
  -h, --help        this page

A whole practice, asked before and after, each trial kept in the records:
  --plan PLAN       the drills of a plan's file, or of your own plan: home
  --fit             none of the questions before a practice applies: do not ask them
  --data FOLDER     where the records are [your own data folder]

Examples:
  holdwell coach
  holdwell coach --plan home
  holdwell coach --note F3 --goal 15
  holdwell coach --file my-hold.wav --fast
)";

const std::string_view kDevicesHelp =
    R"(Lists the microphones, one a line, with their sampling rates and channels; the first is the one
used unless another is chosen.

  holdwell devices

The exit status is 1 when there is none.

  -h, --help        this page
)";

}  // namespace holdwell
