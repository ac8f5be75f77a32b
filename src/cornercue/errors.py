"""The one family of errors that Cornercue explains to a person.

Every member writes its own sentence; `exit_code` is what the command ends with:
1 the script or input is at fault, 2 the command line is, 3 the machine lacks something.
"""


class CornercueError(Exception):
    """A failure that a parent or an instructor can act on; `str()` is the sentence to show."""

    exit_code = 1


class InputFault(CornercueError):
    """A script, recording or other input is wrong."""

    exit_code = 1


class MachineLacks(CornercueError):
    """No voice, no sound device, no room on the disk: the input is fine, the machine is not."""

    exit_code = 3


class PrintFault(CornercueError):
    """What is said cannot be printed. No `MachineLacks`: while a drill plays, those are about the sound device."""

    exit_code = 3
