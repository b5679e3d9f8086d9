"""Easter and Pascha, as python-dateutil has them: year, Western, Orthodox."""
import sys

try:
    from dateutil.easter import EASTER_ORTHODOX, EASTER_WESTERN, easter
except ImportError:
    sys.exit(69)

for year in range(int(sys.argv[1]), int(sys.argv[2]) + 1):
    print(easter(year, EASTER_WESTERN), easter(year, EASTER_ORTHODOX))
