"""Why may a phone believe that it speaks with this workshop, and under which name does it find it?"""
