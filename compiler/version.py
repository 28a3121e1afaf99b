"""The version, said once for the package's own use: asking the installed record takes longer than the help
does.
"""

VERSION = "0.1.0"
