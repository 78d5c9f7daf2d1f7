"""The topic `figures`: the pictures, their themes, the gallery, and how soon they are drawn."""
